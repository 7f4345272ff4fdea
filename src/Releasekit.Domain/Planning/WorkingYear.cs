namespace Releasekit.Domain.Planning;

/// <summary>
/// The working windows of one UTC calendar year with their running sums: every question is one binary search.
/// </summary>
/// <param name="begin">First instant of the year.</param>
/// <param name="end">First instant of the next.</param>
/// <param name="windows">In order, apart, none empty, all inside the year.</param>
internal sealed class WorkingYear(Instant begin, Instant end, IReadOnlyList<Interval> windows)
{
    private readonly Instant[] _starts = [.. windows.Select(window => window.Start)];
    private readonly Instant[] _ends = [.. windows.Select(window => window.End)];

    /// <summary>Work before each window, and the whole year's as the last.</summary>
    private readonly Duration[] _sums = RunningSums(windows);

    public Instant Begin { get; } = begin;

    public Instant End { get; } = end;

    public Duration Total => _sums[^1];

    /// <summary>Working time of this year before <paramref name="at"/>.</summary>
    public Duration WorkedBy(Instant at)
    {
        var window = CountUpTo(_starts, at) - 1;
        return window < 0
            ? Duration.Zero
            : _sums[window] + (Instant.Min(at, _ends[window]) - _starts[window]);
    }

    /// <summary>The earliest instant by which that much is done; above zero, at most <see cref="Total"/>.</summary>
    public Instant FinishOf(Duration work)
    {
        var found = Array.BinarySearch(_sums, work);
        var window = (found < 0 ? ~found : found) - 1;
        return _starts[window] + (work - _sums[window]);
    }

    /// <summary>
    /// The latest instant before which no more than that is done; from zero, below <see cref="Total"/>.
    /// </summary>
    public Instant StartOf(Duration work)
    {
        var window = CountUpTo(_sums, work) - 1;
        return _starts[window] + (work - _sums[window]);
    }

    public IEnumerable<Interval> Stretches(Instant from, Instant to)
    {
        for (var window = CountUpTo(_ends, from); window < _starts.Length && _starts[window] < to; window++)
        {
            yield return new Interval(Instant.Max(from, _starts[window]), Instant.Min(to, _ends[window]));
        }
    }

    private static Duration[] RunningSums(IReadOnlyList<Interval> windows)
    {
        var sums = new Duration[windows.Count + 1];
        for (var window = 0; window < windows.Count; window++)
        {
            sums[window + 1] = sums[window] + windows[window].Duration;
        }

        return sums;
    }

    /// <summary>How many of the ascending, distinct values are at most that one.</summary>
    private static int CountUpTo<T>(T[] values, T value)
    {
        var found = Array.BinarySearch(values, value);
        return found < 0 ? ~found : found + 1;
    }
}
