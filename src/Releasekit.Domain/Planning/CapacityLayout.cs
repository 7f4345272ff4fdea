using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Planning;

/// <summary>Lays open work on the work clock (ticks of working time from now on) and reads instants back.</summary>
internal sealed class CapacityLayout
{
    /// <summary>Where the dues lie that nobody set: behind all others, without being late.</summary>
    private const long NoDue = long.MaxValue / 2;

    /// <summary>Where a beginning lies that is further away than the calendar looks: behind everything else.</summary>
    private const long OutOfReach = NoDue / 2;

    private readonly WorkingCalendar _calendar;
    private readonly Instant _now;
    private readonly WorkClockRate _rate;
    private readonly Dictionary<string, OpenWork> _work;
    private readonly IReadOnlyList<Piece> _pieces;

    private CapacityLayout(
        WorkingCalendar calendar, Instant now, WorkClockRate rate, IReadOnlyList<OpenWork> ordered)
    {
        (_calendar, _now, _rate) = (calendar, now, rate);
        _work = ordered.ToDictionary(NameOf);
        var positions = new Dictionary<Instant, long?>();

        _pieces = [.. ordered.Select(work => new Piece(
            NameOf(work),
            rate.Stretched(Efforts.Reckoned(work.Effort)),
            work.DueAt is { } due ? Position(due) ?? NoDue : NoDue,
            ReadyAt: work.NotBefore is { } begin ? Math.Max(0, Position(begin) ?? OutOfReach) : 0)
        {
            After = [.. work.After.Select(key => NameOf(work with { Key = key })).Where(_work.ContainsKey)],
        })];

        // Stages of a release share their due: asked once, answered for all.
        long? Position(Instant at) => positions.TryGetValue(at, out var known)
            ? known
            : positions[at] = _calendar.Between(_now, at)?.BclCompatibleTicks;
    }

    public static CapacityLayout? TryPrepare(
        IReadOnlyList<OpenWork> work,
        WorkingCalendar calendar,
        Instant now,
        CapacityQuestion question,
        out string? fault)
    {
        fault = null;
        List<OpenWork> ordered = [];

        foreach (var own in work.Where(one => one.Owner != question.Without).GroupBy(one => one.Owner))
        {
            var keys = own.Select(one => one.Key).ToHashSet();
            var order = ActivityOrder.Of(
                [.. own], one => one.Key, one => [.. one.After.Where(keys.Contains)], out fault);
            if (order is null)
            {
                return null;
            }

            ordered.AddRange(order);
        }

        var rate = new WorkClockRate(calendar.WeeklyHours, question.HoursAWeek ?? calendar.WeeklyHours);
        return new CapacityLayout(rate.IsIdle ? calendar.Emptied() : calendar, now, rate, ordered);
    }

    public CapacityPlan Plan()
    {
        var schedule = SplitSchedule.Lay(_pieces);
        var segments = schedule.Segments.ToLookup(segment => segment.Key);
        var laid = _pieces
            .Select(piece => (From: segments[piece.Key].First().From, Work: Laid(piece, [.. segments[piece.Key]])))
            .OrderBy(piece => piece.From)
            .Select(piece => piece.Work)
            .ToArray();

        var missed = laid.Where(work => work.Shortfall > Duration.Zero).ToArray();

        return new CapacityPlan(
            laid,
            [.. Outlooks(laid)],
            missed.Select(work => work.Shortfall).Aggregate(Duration.Zero, Duration.Max),
            missed.Length == 0 ? null : LastDayBefore(missed.Min(work => work.Work.DueAt!.Value)),
            missed.Length == 0 ? [] : Remedies());
    }

    private LaidWork Laid(Piece piece, WorkSegment[] segments)
    {
        var work = _work[piece.Key];
        var (from, to) = (InstantOf(segments[0].From), InstantOf(segments[^1].To));

        if (piece.Length == 0)
        {
            // What takes no time can happen outside working time, such as at the slot.
            var moment = work.NotBefore is { } begin && to is { } at ? Instant.Max(begin, at) : to;
            return new LaidWork(work, moment, moment, ShortfallOf(piece, segments[^1].To), []);
        }

        return new LaidWork(
            work,
            from is { } start ? _calendar.NextWorkingInstant(start) : null,
            to,
            ShortfallOf(piece, segments[^1].To),
            [.. segments.SelectMany(Sittings)]);
    }

    private IReadOnlyList<Interval> Sittings(WorkSegment segment) =>
        InstantOf(segment.From) is { } from && InstantOf(segment.To) is { } to ? _calendar.Stretches(from, to) : [];

    /// <summary>Against a due that has passed, what counts is what is missing from now on.</summary>
    private Duration ShortfallOf(Piece piece, long finish) => _rate.Worked(Late(piece, finish));

    private static long Late(Piece piece, long finish) => Math.Max(0, finish - Math.Max(0, piece.Due));

    private static IEnumerable<DueOutlook> Outlooks(IEnumerable<LaidWork> laid) => laid
        .Where(work => work.Work is { Kind: not WorkKind.FollowUp, DueAt: not null })
        .GroupBy(work => work.Work.Owner)
        .Select(own => new DueOutlook(
            own.Key,
            own.Max(work => work.Work.DueAt!.Value),
            own.Any(work => work.FinishesAt is null) ? null : own.Max(work => work.FinishesAt),
            own.Max(work => work.Shortfall),
            own.Any(work => work.Work.Effort is null)))
        .OrderBy(outlook => outlook.DueAt);

    private List<string> Remedies()
    {
        var rule = new SplitRule(_pieces);
        var owners = _pieces.Select(piece => _work[piece.Key].Owner).ToArray();

        return
        [
            .. _work.Values
                .Where(work => work.Kind is not WorkKind.Task)
                .GroupBy(work => work.Owner)
                .OrderBy(own => own.Max(work => work.DueAt ?? Instant.MaxValue))
                .Select(own => own.Key)
                .Where(FitsWithout),
        ];

        bool FitsWithout(string owner)
        {
            var fits = true;
            rule.Run(rank => owners[rank] != owner, (rank, _, to) => fits = Late(_pieces[rank], to) == 0);
            return fits;
        }
    }

    private LocalDate LastDayBefore(Instant due) =>
        Instant.Max(_now, due - Duration.Epsilon).InZone(_calendar.Zone).Date;

    private Instant? InstantOf(long position) => _calendar.Add(_now, Duration.FromTicks(position));

    private static string NameOf(OpenWork work) => work.Owner + "\n" + work.Key;
}
