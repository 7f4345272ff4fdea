using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>Runs parts that have nothing to do with each other: 0, 1 and so on, in any order, on any thread.</summary>
public delegate void RunParts(int parts, Action<int> part);

/// <summary>
/// When open releases are ready, by many trials. Working hours from now become instants on the working calendar; as
/// the calendar keeps order, only the few values that are shown are mapped, and a date is compared on the work clock.
/// </summary>
public sealed class WorkForecast
{
    /// <summary>How many trials are run unless said otherwise: an error of half a per cent at the most.</summary>
    public const int UsualTrials = 10_000;

    // Sums of hours miss an exact end of a day by less than this.
    private const double Rounding = 1e-7;

    private readonly TrialModel _model;
    private readonly TrialOutcomes _outcomes;
    private readonly WorkingCalendar _calendar;
    private readonly Instant _now;
    private readonly bool _isElapsed;

    private WorkForecast(
        TrialModel model, TrialOutcomes outcomes, WorkingCalendar calendar, Instant now, RunParts run)
    {
        (_model, _outcomes, _calendar, _now) = (model, outcomes, calendar, now);
        _isElapsed = model.Pattern is WorkPattern.UsualPace;
        var releases = new ReleaseForecast[model.Open.Count];
        run(releases.Length, index => releases[index] = Of(model.Open[index], index));
        Releases = releases;
    }

    /// <summary>How many trials were run.</summary>
    public int Trials => _outcomes.Trials;

    /// <summary>In the order they are worked on.</summary>
    public IReadOnlyList<ReleaseForecast> Releases { get; }

    /// <summary>Runs the trials; what comes out does not depend on how many cores there are.</summary>
    /// <param name="now">UTC: when the work goes on.</param>
    /// <param name="trials">At least one.</param>
    /// <param name="run">How parts are run, on several cores, say; one after another when left out.</param>
    public static WorkForecast Simulate(
        TrialModel model, WorkingCalendar calendar, Instant now, ulong seed, int trials = UsualTrials,
        RunParts? run = null)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trials);
        run ??= OneAfterAnother;
        var outcomes = TrialOutcomes.Run(model, model.ClockFrom(now, calendar), seed, trials, run);
        return new(model, outcomes, calendar, now, run);
    }

    private static void OneAfterAnother(int parts, Action<int> part)
    {
        for (var i = 0; i < parts; i++)
        {
            part(i);
        }
    }

    /// <summary>How many of the releases are ready by an instant, included.</summary>
    /// <param name="of">Which are counted; null: all.</param>
    public CountForecast ReadyBy(Instant at, IReadOnlySet<Guid>? of = null)
    {
        var (limit, counted) = (HoursUntil(at), Indexes(of));
        var trialsWith = new int[counted.Length + 1];
        for (var trial = 0; trial < Trials; trial++)
        {
            var ready = 0;
            foreach (var index in counted)
            {
                ready += _outcomes.Ready[index][trial] <= limit ? 1 : 0;
            }

            trialsWith[ready]++;
        }

        for (var count = counted.Length - 1; count >= 0; count--)
        {
            trialsWith[count] += trialsWith[count + 1];
        }

        return new([.. trialsWith.Select(count => Chance.Of(count, Trials))]);
    }

    /// <summary>When the first <paramref name="count"/> of the releases are ready, whichever they are.</summary>
    /// <param name="of">Which are counted; null: all.</param>
    /// <exception cref="ArgumentOutOfRangeException">There are not so many, or none is asked for.</exception>
    public IReadOnlyList<FinishPercentile> WhenReady(int count, IReadOnlySet<Guid>? of = null)
    {
        var counted = Indexes(of);
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(count, counted.Length);
        var (column, ordered) = (new double[Trials], new double[counted.Length]);
        for (var trial = 0; trial < Trials; trial++)
        {
            for (var i = 0; i < ordered.Length; i++)
            {
                ordered[i] = _outcomes.Ready[counted[i]][trial];
            }

            Array.Sort(ordered);
            column[trial] = ordered[count - 1];
        }

        return Percentiles(column, [.. counted.Select(index => _model.Laws[index])]);
    }

    private int[] Indexes(IReadOnlySet<Guid>? of) =>
    [
        .. Enumerable.Range(0, _model.Open.Count).Where(index => of?.Contains(_model.Open[index].Release) ?? true),
    ];

    private ReleaseForecast Of(OpenRelease open, int index)
    {
        var limit = open.SlotAt is { } slot ? HoursUntil(slot + open.Grace) : 0;
        return new(
            open.Release,
            open.SlotAt,
            open.SlotAt is null ? null : Chance.Of(UpTo(_outcomes.Published[index], limit), Trials),
            Percentiles(_outcomes.Ready[index], [_model.Laws[index]]),
            _model.Outlasting.Contains(open.Release),
            _model.Laws[index].Basis,
            _model.Laws[index].Past);
    }

    private static int UpTo(double[] values, double limit)
    {
        var count = 0;
        foreach (var value in values)
        {
            count += value <= limit ? 1 : 0;
        }

        return count;
    }

    private FinishPercentile[] Percentiles(ReadOnlySpan<double> column, IReadOnlyList<WorkLaw> laws)
    {
        var length = column.Length;
        int[] ranks = [.. Spread.Shown.Select(percent => (int)((((long)length * percent) + 99) / 100) - 1)];
        var values = new double[ranks.Length];
        OrderStatistics.Select(column, ranks, values);
        return
        [
            .. values.Zip(Spread.Shown, (hours, percent) => (Hours: hours, Percent: percent, At: InstantOf(hours)))
                .Select(one => new FinishPercentile(
                    one.Percent, WorkingHours(one.Hours, one.At), one.At, CautionOf(one.Percent, laws))),
        ];
    }

    private static Lack? CautionOf(int percent, IReadOnlyList<WorkLaw> laws) =>
        laws.Any(law => law.Basis is ForecastBasis.Guesses)
            ? Lack.TooFewPast
            : laws.Any(law => law.Basis is ForecastBasis.PastReleases
                && !PercentileFigure.HasUpperEnd(law.Past, percent)) ? Lack.NoFiniteBound : null;

    // Nothing becomes ready in the past, not even what takes no time.
    private double HoursUntil(Instant at) => at < _now
        ? -1
        : Rounding + (_isElapsed
            ? (at - _now).TotalHours
            : _calendar.Between(_now, at)?.TotalHours ?? double.MaxValue);

    // To the millisecond, as instants are stored: what ends with the day must not end on the next.
    private Instant? InstantOf(double hours)
    {
        if (double.IsPositiveInfinity(hours))
        {
            return null;
        }

        var duration = Duration.FromMilliseconds((long)Math.Round(hours * 3_600_000));
        return _isElapsed ? _now + duration : _calendar.Add(_now, duration);
    }

    private double? WorkingHours(double hours, Instant? at) => !_isElapsed
        ? hours
        : at is { } ready ? _calendar.Between(_now, ready)?.TotalHours : null;
}
