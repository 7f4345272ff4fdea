using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Sheets;

/// <summary>
/// A small notebook to make sheets and reminders from: an audio series every Thursday 07:00 in Lisbon, opened in
/// January 2026, with eight working hours from Monday to Friday.
/// </summary>
internal sealed class Notebook
{
    public const string Series = "mudflat-weekly";
    public static readonly Instant LongAgo = Instant.FromUtc(2026, 1, 1, 0, 0);

    private static readonly PlannedStage[] Stages =
    [
        new("outline", "Outline", false, Duration.FromHours(2), [], [], null, []),
        new("record", "Field recording", false, Duration.FromHours(8), ["outline"], [], null, []),
        new("publish", "Publish", true, null, ["record"], [], null, []),
        new("letter", "Reader letter", false, Duration.FromHours(1), ["publish"], [], Duration.FromHours(48), []),
    ];

    private readonly List<Release> _releases = [];
    private readonly List<SeriesEvent> _events = [];

    public Notebook()
    {
        _events.Add(new SeriesOpened(
            Guid.NewGuid(), Series, "Mudflat Weekly", "audio", new(null, null, null, 0.8), LongAgo));
        _events.Add(new CadenceSet(
            new("FREQ=WEEKLY;BYDAY=TH", new(2026, 1, 1), new(7, 0), "Europe/Lisbon"), new(2026, 1, 1), LongAgo));
    }

    public Publisher Publisher { get; init; } =
        new("mudflat", "Mudflat Audio", "Europe/Lisbon", Publisher.UsualWeek, [], LongAgo);

    public IReadOnlyList<PlannedTask> Tasks { get; init; } = [];

    public IReadOnlyList<Appointment> Appointments { get; init; } = [];

    public IReadOnlyList<Project> Projects { get; init; } = [];

    public static IReadOnlyDictionary<string, PlannedWork> Plans { get; } = new Dictionary<string, PlannedWork>
    {
        [Series] = new(new StagePlan("audio", "Audio", 1, Stages)),
    };

    /// <summary>A release with what happened to it.</summary>
    public Guid Plan(string title, LocalDate? slot, Instant plannedAt, params ReleaseEvent[] happened)
    {
        var id = Guid.NewGuid();
        List<ReleaseEvent> events =
        [
            new ReleasePlanned(id, Series, title, "audio", 1, Stages, null, plannedAt, plannedAt),
            .. slot is { } date ? [new SlotAssigned(date, plannedAt, plannedAt)] : Array.Empty<ReleaseEvent>(),
            .. happened,
        ];
        _releases.Add(events.Select((e, i) => (Event: e, Sequence: i + 1L))
            .Aggregate((Release?)null, (state, e) => Release.Evolve(state, e.Sequence, e.Event))!);

        return id;
    }

    /// <summary>Something is decided about the series.</summary>
    public Notebook Decide(SeriesEvent happened)
    {
        _events.Add(happened);
        return this;
    }

    /// <summary>A stage that was completed, and known at once.</summary>
    public static StageCompleted Done(string stage, Instant at) =>
        new(stage, stage == "publish", false, null, null, at, at);

    /// <summary>As it stands open at an instant: what happened after it is not in it.</summary>
    public SheetFacts At(Instant now)
    {
        var series = _events.Select((e, i) => (Event: e, Sequence: i + 1L))
            .Aggregate((Series?)null, (state, e) => Domain.Schedule.Series.Evolve(state, e.Sequence, e.Event))!;
        var today = Publisher.DateAt(now);
        var marks = _releases.Select(one => new ReleaseMark(one.Id, one.HeldSlot, one.PublishedAt)).ToArray();
        var outcomes = SeriesJudgement.Judge(series, marks, today.PlusDays(60), now).Slots
            .ToDictionary(outcome => outcome.Date);
        var slots = SlotCalendar.Between(series, today.PlusDays(-60), today.PlusDays(60))
            .Select(slot => new JudgedSlot(slot, outcomes[slot.Date]));
        var calendar = WorkingCalendar.Of(Publisher, []);
        var work = _releases.SelectMany(release => OpenWork.Of(
            release,
            release.HeldSlot is { } date ? SlotCalendar.Find(series, date)?.OwedAt : null));

        return new(
            Publisher, now, [new(series, [.. slots])], _releases, Tasks, Appointments, Projects, [], [], calendar,
            CapacityPlan.TryLay([.. work], calendar, now, new CapacityQuestion(), out _)!);
    }
}
