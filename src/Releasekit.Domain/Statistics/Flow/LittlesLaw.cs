namespace Releasekit.Domain.Statistics.Flow;

/// <summary>What a release contributes to the gap of Little's law in a window.</summary>
/// <param name="Release">Its id.</param>
/// <param name="Releases">Its part of the gap, in releases; negative when it was open at the left edge.</param>
/// <param name="IsOpenAtEnd">Whether it was still open at the right edge.</param>
/// <param name="IsDropped">Whether it was dropped inside the window.</param>
public sealed record GapShare(Guid Release, double Releases, bool IsOpenAtEnd, bool IsDropped);

/// <summary>
/// Work in progress, throughput and cycle time of a window [a, b) of length T, and by how much Little's law misses
/// (Little 1961; Little and Graves 2008). A release is open from its first trace of work to its publication or drop,
/// right edge excluded. Exact, in whole ticks:
/// <list type="bullet">
/// <item><c>L = H / T</c>, H the time spent open inside the window, summed;</item>
/// <item><c>H = cycle times of those finished + ages at b - ages at a + times of those dropped</c>, hence</item>
/// <item><c>L - throughput · mean cycle = (ages at b - ages at a + times of those dropped) / T</c>: the gap.</item>
/// </list>
/// A forgotten release is its usual cause.
/// </summary>
/// <param name="WorkInProgress">L, mean number open.</param>
/// <param name="OpenAtStart">Open at the left edge, begun before it.</param>
/// <param name="OpenAtEnd">Open at the right edge, begun before it.</param>
/// <param name="Begun">First traces inside the window.</param>
/// <param name="Finished">Publications inside the window: throughput as a count.</param>
/// <param name="Dropped">Dropped inside the window after they were begun.</param>
/// <param name="StartsUnknown">Of all these, how many count from a completion, as their start is unknown.</param>
/// <param name="ThroughputPerDay">Finished a day, elapsed.</param>
/// <param name="MeanCycleDays">Of those finished, elapsed days; null when none is.</param>
/// <param name="MeanDaysInside">H / (OpenAtStart + Begun), elapsed days; null when nothing was open.</param>
/// <param name="Gap">L - throughput · mean cycle, in releases.</param>
/// <param name="Carriers">The releases that make the gap, the largest part first; their sum is the gap.</param>
public sealed record LittlesLaw(
    double WorkInProgress,
    int OpenAtStart,
    int OpenAtEnd,
    int Begun,
    int Finished,
    int Dropped,
    int StartsUnknown,
    double ThroughputPerDay,
    double? MeanCycleDays,
    double? MeanDaysInside,
    double Gap,
    IReadOnlyList<GapShare> Carriers)
{
    /// <summary>The law of a window.</summary>
    /// <param name="from">UTC, included.</param>
    /// <param name="to">UTC, excluded, after <paramref name="from"/>, not after the instant the facts hold for.</param>
    /// <exception cref="ArgumentOutOfRangeException">The window is empty.</exception>
    public static LittlesLaw Of(IReadOnlyList<ReleaseFacts> facts, Instant from, Instant to)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(to, from);
        var count = new OpenTimes(from.ToUnixTimeTicks(), to.ToUnixTimeTicks());
        foreach (var release in facts)
        {
            if (release.BegunBy is { } begun)
            {
                count.Add(release, begun.ToUnixTimeTicks(), release.LeftAt?.ToUnixTimeTicks());
            }
        }

        return count.Sum();
    }
}

/// <summary>Adds up what was open when, in ticks of 100 ns.</summary>
internal sealed class OpenTimes(long a, long b)
{
    private readonly List<(ReleaseFacts Release, long Ticks, bool IsOpenAtEnd, bool IsDropped)> _carriers = [];
    private Int128 _area;
    private Int128 _cycles;
    private int _openAtStart;
    private int _openAtEnd;
    private int _begun;
    private int _finished;
    private int _dropped;
    private int _unknown;

    /// <summary>Takes in a release open from <paramref name="begun"/> to before <paramref name="left"/>.</summary>
    public void Add(ReleaseFacts release, long begun, long? left)
    {
        var (isOpenAtStart, isBegun) = (begun < a && !(left < a), begun >= a && begun < b);
        if (!isOpenAtStart && !isBegun)
        {
            return;
        }

        var isOpenAtEnd = !(left < b);
        var isDropped = !isOpenAtEnd && release.PublishedAt is null;
        _area += Math.Min(left ?? b, b) - Math.Max(begun, a);
        _openAtStart += isOpenAtStart ? 1 : 0;
        _begun += isBegun ? 1 : 0;
        _openAtEnd += isOpenAtEnd ? 1 : 0;
        _dropped += isDropped ? 1 : 0;
        _unknown += release.IsStartUnknown ? 1 : 0;
        if (!isOpenAtEnd && !isDropped)
        {
            _finished++;
            _cycles += left!.Value - begun;
        }

        var part = (isOpenAtEnd ? b - begun : isDropped ? left!.Value - begun : 0) - (isOpenAtStart ? a - begun : 0);
        if (part != 0)
        {
            _carriers.Add((release, part, isOpenAtEnd, isDropped));
        }
    }

    public LittlesLaw Sum()
    {
        double length = b - a;
        var seen = _openAtStart + _begun;
        return new(
            (double)_area / length,
            _openAtStart, _openAtEnd, _begun, _finished, _dropped, _unknown,
            _finished / (length / NodaConstants.TicksPerDay),
            _finished == 0 ? null : (double)_cycles / _finished / NodaConstants.TicksPerDay,
            seen == 0 ? null : (double)_area / seen / NodaConstants.TicksPerDay,
            (double)(_area - _cycles) / length,
            [
                .. _carriers.OrderByDescending(carrier => Math.Abs(carrier.Ticks)).Select(carrier => new GapShare(
                    carrier.Release.Release, carrier.Ticks / length, carrier.IsOpenAtEnd, carrier.IsDropped)),
            ]);
    }
}
