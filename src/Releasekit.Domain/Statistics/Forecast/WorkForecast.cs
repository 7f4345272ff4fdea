using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Statistics.Forecast;

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
    private readonly double[] _finishes;
    private readonly double[] _published;
    private readonly WorkingCalendar _calendar;
    private readonly Instant _now;
    private readonly bool _isElapsed;

    private WorkForecast(
        TrialModel model, double[] finishes, double[] published, int trials, WorkingCalendar calendar, Instant now)
    {
        (_model, _finishes, _published, Trials, _calendar, _now) =
            (model, finishes, published, trials, calendar, now);
        _isElapsed = model.Pattern is WorkPattern.UsualPace;
        var column = new double[trials];
        Releases = [.. model.Open.Select((open, index) => Of(open, index, column))];
    }

    /// <summary>How many trials were run.</summary>
    public int Trials { get; }

    /// <summary>In the order they are worked on.</summary>
    public IReadOnlyList<ReleaseForecast> Releases { get; }

    /// <summary>Runs the trials one after the other.</summary>
    /// <param name="now">UTC: when the work goes on.</param>
    /// <param name="trials">At least one.</param>
    public static WorkForecast Simulate(
        TrialModel model, WorkingCalendar calendar, Instant now, ulong seed, int trials = UsualTrials)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trials);
        var finishes = new double[trials * model.Open.Count];
        if (model.ClockFrom(now, calendar) is not { } clock)
        {
            model.Run(seed, 0, finishes);
            return new(model, finishes, finishes, trials, calendar, now);
        }

        var published = new double[finishes.Length];
        model.RunAtUsualPace(seed, 0, finishes, published, clock);
        return new(model, finishes, published, trials, calendar, now);
    }

    /// <summary>Reads trials that were run elsewhere, by several threads, say.</summary>
    /// <param name="finishes">As <see cref="TrialModel.Run(ulong, int, Span{double})"/> fills them, from trial 0 on;
    /// kept.</param>
    /// <param name="trials">How many trials these are, at least one.</param>
    /// <exception cref="ArgumentException">They are not so many.</exception>
    public static WorkForecast Of(
        TrialModel model, double[] finishes, int trials, WorkingCalendar calendar, Instant now)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(trials);
        return finishes.Length == trials * model.Open.Count
            ? new(model, finishes, finishes, trials, calendar, now)
            : throw new ArgumentException("Each trial needs a number for each release.", nameof(finishes));
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
            var finishes = FinishesOf(trial);
            foreach (var index in counted)
            {
                ready += finishes[index] <= limit ? 1 : 0;
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
            var finishes = FinishesOf(trial);
            for (var i = 0; i < ordered.Length; i++)
            {
                ordered[i] = finishes[counted[i]];
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

    private ReadOnlySpan<double> FinishesOf(int trial) =>
        _finishes.AsSpan(trial * _model.Open.Count, _model.Open.Count);

    private ReleaseForecast Of(OpenRelease open, int index, double[] column)
    {
        var (limit, met) = (open.SlotAt is { } slot ? HoursUntil(slot + open.Grace) : 0, 0);
        for (var trial = 0; trial < column.Length; trial++)
        {
            column[trial] = _finishes[trial * _model.Open.Count + index];
            met += _published[trial * _model.Open.Count + index] <= limit ? 1 : 0;
        }

        return new(
            open.Release,
            open.SlotAt,
            open.SlotAt is null ? null : Chance.Of(met, Trials),
            Percentiles(column, [_model.Laws[index]]),
            _model.Outlasting.Contains(open.Release),
            _model.Laws[index].Basis,
            _model.Laws[index].Past);
    }

    private FinishPercentile[] Percentiles(Span<double> column, IReadOnlyList<WorkLaw> laws)
    {
        var found = new FinishPercentile[Spread.Shown.Count];
        for (var (i, from) = (0, 0); i < found.Length; i++)
        {
            // What lies below one percentile was put in front of it, and is not looked at again.
            var rank = (int)(((long)column.Length * Spread.Shown[i] + 99) / 100) - 1;
            var hours = Median.Select(column[from..], rank - from);
            var at = InstantOf(hours);
            found[i] = new(Spread.Shown[i], WorkingHours(hours, at), at, CautionOf(Spread.Shown[i], laws));
            from = rank;
        }

        return found;
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
