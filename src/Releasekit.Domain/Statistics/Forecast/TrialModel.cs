using Releasekit.Domain.Planning;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>How the work of several releases is done.</summary>
public enum WorkPattern
{
    /// <summary>One thing at a time, the earliest slot first: what one person can do.</summary>
    OnePerson,

    /// <summary>The same, and no sooner than at the pace of the past release that is drawn; elapsed hours.</summary>
    UsualPace,

    /// <summary>
    /// Everything as soon as what it follows is done, releases beside each other: hopeful, for comparison.
    /// </summary>
    SideBySide,
}

/// <summary>An open release and what its work is drawn from: the releases of its own series.</summary>
public sealed record LawfulRelease(OpenRelease Release, WorkLaw Law)
{
    /// <summary>The usual pace, by past release of the law; null where nothing tells.</summary>
    public UsualPace? Pace { get; init; }
}

/// <summary>
/// Open releases and the laws of their work, laid out for drawing. Each trial draws every release once: a whole past
/// release, or a value for each stage, and of what was begun only what is longer than it has taken already. A trial is
/// a stream of random numbers of its own, so it comes out the same whichever trials are run beside it, and where.
/// </summary>
/// <remarks>
/// What a past release would still take is added up beforehand, so a trial is one draw and one addition a release.
/// </remarks>
public sealed class TrialModel
{
    private readonly double[] _values;
    private readonly PastPace[] _paces;
    private readonly double[] _slots;
    private readonly (int From, int Count)[] _parts;
    private readonly int[] _releaseAt;
    private readonly int[][] _after;
    private readonly WorkPattern _pattern;

    private TrialModel(IReadOnlyList<LawfulRelease> open, WorkPattern pattern, TrialLayout layout)
    {
        (Open, Laws, _pattern) = (
            [.. open.Select(one => one.Release)], [.. open.Select(one => one.Law)], pattern);
        (_values, _paces, _parts, _releaseAt, _after) = ([.. layout.Values], [.. layout.Paces], [.. layout.Parts],
            [.. layout.Releases], [.. layout.After]);
        _slots = [.. open.Select(one => one.Pace?.SlotHours ?? 0)];
        Outlasting = layout.Outlasting;
    }

    /// <summary>What each is drawn from, in the order of <see cref="Open"/>.</summary>
    public IReadOnlyList<WorkLaw> Laws { get; }

    /// <summary>The releases in the order they are worked on: by slot, those without one last.</summary>
    public IReadOnlyList<OpenRelease> Open { get; }

    /// <summary>
    /// Releases in which a stage has taken longer than anything known: nothing tells what is left of it, and it is
    /// drawn as if it began now.
    /// </summary>
    public IReadOnlyCollection<Guid> Outlasting { get; }

    /// <summary>Prepares the trials of releases of several series.</summary>
    /// <exception cref="ArgumentException">A law does not know a stage that lies ahead.</exception>
    public static TrialModel Of(IEnumerable<LawfulRelease> open, WorkPattern pattern = WorkPattern.OnePerson)
    {
        LawfulRelease[] ordered = [.. open.OrderBy(one => one.Release.SlotAt ?? Instant.MaxValue)];
        return new(ordered, pattern, TrialLayout.Of(ordered, pattern));
    }

    /// <summary>Prepares the trials of releases that are all drawn from the same.</summary>
    /// <exception cref="ArgumentException">The law does not know a stage that lies ahead.</exception>
    public static TrialModel Of(
        WorkLaw law, IEnumerable<OpenRelease> open, WorkPattern pattern = WorkPattern.OnePerson) =>
        Of(open.Select(release => new LawfulRelease(release, law)), pattern);

    /// <summary>How the work is done.</summary>
    public WorkPattern Pattern => _pattern;

    /// <summary>The clock that <see cref="RunAtUsualPace"/> needs; null for none.</summary>
    internal ElapsedClock? ClockFrom(Instant now, WorkingCalendar calendar) => _pattern is WorkPattern.UsualPace
        ? new(calendar, now, _parts.Sum(part => _values.AsSpan(part.From, part.Count).ToArray().Max()))
        : null;

    /// <summary>
    /// Runs consecutive trials: for each, when each release is done, in working hours from now, in the order of
    /// <see cref="Open"/>. Several spans may be filled at a time, by any number of threads.
    /// </summary>
    /// <param name="firstTrial">The number of the first of them, from 0.</param>
    /// <param name="finishes">Trial after trial; as many trials as fit.</param>
    public void Run(ulong seed, int firstTrial, Span<double> finishes)
    {
        Span<double> done = stackalloc double[Releases.StagePlanRules.MostStages];
        var releases = Open.Count;
        for (var (at, trial) = (0, firstTrial); at + releases <= finishes.Length && releases > 0; at += releases)
        {
            var stream = TrialStream.Of(seed, trial++);
            if (_pattern is WorkPattern.OnePerson)
            {
                RunOnePerson(stream, finishes.Slice(at, releases));
            }
            else
            {
                RunSideBySide(stream, finishes.Slice(at, releases), done);
            }
        }
    }

    private void RunOnePerson(TrialStream stream, Span<double> finishes)
    {
        ReadOnlySpan<double> values = _values;
        ReadOnlySpan<(int From, int Count)> parts = _parts;
        ReadOnlySpan<int> releaseAt = _releaseAt;
        var (clock, part) = (0.0, 0);
        for (var release = 0; release < finishes.Length; release++)
        {
            var (first, end) = (part, releaseAt[release + 1]);
            for (; part < end; part++)
            {
                var (from, count) = parts[part];
                clock += values[from + stream.Below(count)];
            }

            // What is in the bank is ready whatever else is to be done.
            finishes[release] = first == end ? 0 : clock;
        }
    }

    /// <summary>
    /// Runs consecutive trials at the usual pace: when each release is ready, and when it is published, in elapsed
    /// hours from now.
    /// </summary>
    internal void RunAtUsualPace(
        ulong seed, int firstTrial, Span<double> ready, Span<double> published, ElapsedClock elapsed)
    {
        var releases = Open.Count;
        for (var (at, trial) = (0, firstTrial); at + releases <= ready.Length && releases > 0; at += releases)
        {
            var (stream, clock, part) = (TrialStream.Of(seed, trial++), 0.0, 0);
            for (var release = 0; release < releases; release++)
            {
                var (before, pace) = (clock, default(PastPace));
                for (; part < _releaseAt[release + 1]; part++)
                {
                    var (from, count) = _parts[part];
                    var drawn = from + stream.Below(count);
                    clock += _values[drawn];
                    pace = _paces[drawn];
                }

                // What is in the bank, or takes no work any more, is ready whatever else is to be done.
                ready[at + release] = clock == before ? pace.Hours : Math.Max(elapsed.After(clock), pace.Hours);
                published[at + release] = Math.Max(ready[at + release], _slots[release]) + pace.Delay;
            }
        }
    }

    private void RunSideBySide(TrialStream stream, Span<double> finishes, Span<double> done)
    {
        for (var release = 0; release < finishes.Length; release++)
        {
            finishes[release] = LongestPath(ref stream, _releaseAt[release], _releaseAt[release + 1], done);
        }
    }

    private double LongestPath(ref TrialStream stream, int first, int end, Span<double> done)
    {
        var last = 0.0;
        for (var part = first; part < end; part++)
        {
            var start = 0.0;
            foreach (var before in _after[part])
            {
                start = Math.Max(start, done[before]);
            }

            var (from, count) = _parts[part];
            done[part - first] = start + _values[from + stream.Below(count)];
            last = Math.Max(last, done[part - first]);
        }

        return last;
    }
}

/// <summary>The random numbers of a trial: the stream that its own number of the seed's stream begins.</summary>
internal struct TrialStream
{
    private ulong _state;

    public static TrialStream Of(ulong seed, int trial) =>
        new() { _state = SplitMix64.Mixed(unchecked(seed + ((ulong)trial + 1) * SplitMix64.Step)) };

    /// <summary>From zero, below <paramref name="limit"/>; the bias is below limit / 2^64.</summary>
    public int Below(int limit)
    {
        _state = unchecked(_state + SplitMix64.Step);
        return (int)Math.BigMul(SplitMix64.Mixed(_state), (ulong)limit, out _);
    }
}
