namespace Releasekit.Domain.Statistics;

/// <summary>What the best matching does with a slot when a given publication is the next one free.</summary>
internal enum MatchingStep : byte
{
    /// <summary>The slot gets nothing.</summary>
    PassSlot,

    /// <summary>The publication goes to no slot from here on.</summary>
    PassPublication,

    /// <summary>The slot gets the publication.</summary>
    Pair,
}

/// <summary>One slot's row of decisions.</summary>
/// <param name="First">The first publication in the slot's windows.</param>
/// <param name="PassFrom">From this publication to First, all are passed; First when none is.</param>
/// <param name="Steps">The decisions for First and those after it, as far as the windows reach.</param>
internal sealed record MatchingRow(int First, int PassFrom, MatchingStep[] Steps)
{
    internal MatchingStep StepAt(int publication)
    {
        var index = publication - First;
        return index >= 0 && index < Steps.Length ? Steps[index] : MatchingStep.PassSlot;
    }
}

/// <summary>
/// The worth of the best matching of the slots seen so far (from the last one forwards) with the publications from j
/// on, for every j. Below <c>_flat</c> all worths are that at <c>_flat</c>, and are not written out.
/// </summary>
internal sealed class MatchingTable(int publications)
{
    private readonly Worth[] _worths = new Worth[publications + 1];
    private int _flat = publications;

    /// <summary>Takes in the slot before those seen so far.</summary>
    internal MatchingRow Prepend(int slot, MatchableSlot windows, Instant[] published)
    {
        var first = IndexFrom(published, windows.PromisedAt - windows.Early);
        var end = first;
        while (end < published.Length && published[end] <= windows.PromisedAt + windows.Late)
        {
            end++;
        }

        if (end == first)
        {
            return new MatchingRow(first, first, []);
        }

        WriteOutFrom(first);
        var decisions = new MatchingStep[end - first];
        var diagonal = _worths[end];
        for (var j = end - 1; j >= first; j--)
        {
            var pair = diagonal.With(slot, published[j] - windows.PromisedAt);
            diagonal = _worths[j];
            (_worths[j], decisions[j - first]) = Best(pair, _worths[j + 1], passSlot: _worths[j]);
        }

        return new MatchingRow(first, SpreadBelow(first), decisions);
    }

    private static (Worth, MatchingStep) Best(Worth pair, Worth passPublication, Worth passSlot)
    {
        var (best, step) = pair.IsBelow(passPublication)
            ? (passPublication, MatchingStep.PassPublication)
            : (pair, MatchingStep.Pair);
        return best.IsBelow(passSlot) ? (passSlot, MatchingStep.PassSlot) : (best, step);
    }

    private static int IndexFrom(Instant[] published, Instant from)
    {
        var (low, high) = (0, published.Length);
        while (low < high)
        {
            var middle = low + (high - low) / 2;
            (low, high) = published[middle] < from ? (middle + 1, high) : (low, middle);
        }

        return low;
    }

    private void WriteOutFrom(int first)
    {
        for (; _flat > first; _flat--)
        {
            _worths[_flat - 1] = _worths[_flat];
        }
    }

    // Only a slot whose windows begin later than a later slot's (one moved by hand, say) has anything to do here.
    private int SpreadBelow(int first)
    {
        var j = first;
        while (j > _flat && _worths[j - 1].IsBelow(_worths[j]))
        {
            _worths[j - 1] = _worths[j];
            j--;
        }

        return j == _flat ? 0 : j;
    }

    /// <summary>How good a matching is: more pairs first, then less deviation, then earlier slots.</summary>
    private readonly record struct Worth(int Pairs, Int128 DeviationTicks, long SlotSum)
    {
        internal Worth With(int slot, Duration deviation) =>
            new(Pairs + 1, DeviationTicks + Math.Abs(deviation.BclCompatibleTicks), SlotSum + slot);

        internal bool IsBelow(Worth other) =>
            Pairs != other.Pairs ? Pairs < other.Pairs
            : DeviationTicks != other.DeviationTicks ? DeviationTicks > other.DeviationTicks
            : SlotSum > other.SlotSum;
    }
}
