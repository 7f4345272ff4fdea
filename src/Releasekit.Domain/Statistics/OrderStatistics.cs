using System.Buffers;
using System.Numerics;

namespace Releasekit.Domain.Statistics;

/// <summary>
/// Several values by rank of many, without sorting: all are counted into narrow classes, and only the classes in which
/// a rank falls are looked at again. Two passes, and exact.
/// </summary>
internal static class OrderStatistics
{
    private const int Classes = 1_024;

    /// <summary>The value of each rank.</summary>
    /// <param name="values">In any order; left as they are. May hold positive infinity, never what is no number.
    /// </param>
    /// <param name="ranks">From 0, rising.</param>
    /// <param name="found">One for each rank.</param>
    public static void Select(ReadOnlySpan<double> values, ReadOnlySpan<int> ranks, Span<double> found)
    {
        var (least, most) = Ends(values);
        var scale = (Classes - 1) / (most - least);
        var kept = ArrayPool<double>.Shared.Rent(values.Length);

        if (least == most || !double.IsFinite(scale))
        {
            SelectPlainly(values, ranks, found, kept);
        }
        else
        {
            SelectByClass(values, ranks, found, least, scale, kept);
        }

        ArrayPool<double>.Shared.Return(kept);
    }

    private static void SelectByClass(
        ReadOnlySpan<double> values, ReadOnlySpan<int> ranks, Span<double> found, double least, double scale,
        double[] kept)
    {
        Span<int> counts = stackalloc int[Classes];
        counts.Clear();
        var classes = ArrayPool<short>.Shared.Rent(values.Length);
        var classOf = classes.AsSpan(0, values.Length);

        for (var i = 0; i < values.Length; i++)
        {
            var at = (int)((values[i] - least) * scale);
            classOf[i] = (short)at;
            counts[at]++;
        }

        var (below, current, members) = (0, 0, 0);
        var gathered = -1;
        for (var r = 0; r < ranks.Length; r++)
        {
            while (below + counts[current] <= ranks[r])
            {
                below += counts[current++];
            }

            if (gathered != current)
            {
                (gathered, members) = (current, Gather(values, classOf, current, kept));
            }

            found[r] = Median.Select(kept.AsSpan(0, members), ranks[r] - below);
        }

        ArrayPool<short>.Shared.Return(classes);
    }

    private static int Gather(ReadOnlySpan<double> values, ReadOnlySpan<short> classOf, int wanted, double[] kept)
    {
        var members = 0;
        for (var i = 0; i < classOf.Length; i++)
        {
            // Written always and counted where it belongs: no branch to be guessed wrong.
            kept[members] = values[i];
            members += classOf[i] == wanted ? 1 : 0;
        }

        return members;
    }

    private static void SelectPlainly(
        ReadOnlySpan<double> values, ReadOnlySpan<int> ranks, Span<double> found, double[] kept)
    {
        values.CopyTo(kept);
        for (var r = 0; r < ranks.Length; r++)
        {
            found[r] = Median.Select(kept.AsSpan(0, values.Length), ranks[r]);
        }
    }

    private static (double Least, double Most) Ends(ReadOnlySpan<double> values)
    {
        var (least, most, i) = (double.PositiveInfinity, double.NegativeInfinity, 0);
        if (values.Length >= Vector<double>.Count)
        {
            var (low, high) = (new Vector<double>(values), new Vector<double>(values));
            for (; i + Vector<double>.Count <= values.Length; i += Vector<double>.Count)
            {
                var next = new Vector<double>(values[i..]);
                (low, high) = (Vector.Min(low, next), Vector.Max(high, next));
            }

            for (var lane = 0; lane < Vector<double>.Count; lane++)
            {
                (least, most) = (Math.Min(least, low[lane]), Math.Max(most, high[lane]));
            }
        }

        for (; i < values.Length; i++)
        {
            (least, most) = (Math.Min(least, values[i]), Math.Max(most, values[i]));
        }

        return (least, most);
    }
}
