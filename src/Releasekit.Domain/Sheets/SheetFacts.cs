using Releasekit.Domain.Ideas;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>What sheets are made from: everything of a publisher that can stand on the days they show.</summary>
/// <param name="Now">UTC.</param>
/// <param name="Series">By title.</param>
/// <param name="Releases">
/// The open ones and those with a slot or a publication near the days of the sheet; no dropped ones.
/// </param>
/// <param name="Tasks">Not removed.</param>
/// <param name="Appointments">Not removed.</param>
/// <param name="Projects">Not dropped.</param>
/// <param name="Ideas">The latest that are no releases yet, newest first.</param>
/// <param name="Notes">Those noted on the days of the sheet, newest first.</param>
/// <param name="Calendar">The publisher's working hours without busy appointments.</param>
/// <param name="Plan">All open work laid into the hours that are left from now on.</param>
public sealed record SheetFacts(
    Publisher Publisher,
    Instant Now,
    IReadOnlyList<SeriesFacts> Series,
    IReadOnlyList<Release> Releases,
    IReadOnlyList<PlannedTask> Tasks,
    IReadOnlyList<Appointment> Appointments,
    IReadOnlyList<Project> Projects,
    IReadOnlyList<Idea> Ideas,
    IReadOnlyList<Note> Notes,
    WorkingCalendar Calendar,
    CapacityPlan Plan)
{
    private readonly Dictionary<Guid, Release> _releases = Releases.ToDictionary(release => release.Id);

    /// <summary>What was last forecast of releases that hold a slot, by release; only forecasts of late.</summary>
    public IReadOnlyDictionary<Guid, SlotChance> Chances { get; init; } = new Dictionary<Guid, SlotChance>();

    /// <summary>The publisher's zone, in which every date and time of a sheet is meant.</summary>
    public DateTimeZone Zone { get; } = LocalTimes.FindZone(Publisher.Zone)!;

    /// <summary>The local date of <see cref="Now"/>.</summary>
    public LocalDate Today => DateOf(Now);

    /// <summary>The local date of an instant.</summary>
    public LocalDate DateOf(Instant at) => at.InZone(Zone).Date;

    /// <summary>The local time of day of an instant.</summary>
    public LocalTime TimeOf(Instant at) => at.InZone(Zone).TimeOfDay;

    /// <summary>The release of that id; null when it is not among those known here.</summary>
    public Release? Find(Guid? id) => id is { } known ? _releases.GetValueOrDefault(known) : null;

    /// <summary>Where the slot of a release stands, UTC; null without one, and when nothing is owed for it.</summary>
    public Instant? OwedAt(Release release) =>
        release.HeldSlot is { } date ? SlotOf(release.Series, date)?.Slot.OwedAt : null;

    /// <summary>A slot of a series by its original local date; null when it is not among those known here.</summary>
    public JudgedSlot? SlotOf(string series, LocalDate date) => Series
        .FirstOrDefault(one => one.Series.Slug == series)?.Slots.FirstOrDefault(slot => slot.Slot.Date == date);

    /// <summary>The title of a series; its slug where it is not known here.</summary>
    public string TitleOf(string series) =>
        Series.FirstOrDefault(one => one.Series.Slug == series)?.Series.Title ?? series;
}

/// <summary>A series with its slots around the days of a sheet.</summary>
/// <param name="Slots">By original date; those moved into the days of the sheet from elsewhere included.</param>
public sealed record SeriesFacts(Series Series, IReadOnlyList<JudgedSlot> Slots);

/// <summary>How likely a release was said to meet its slot.</summary>
/// <param name="SlotAt">Where the slot stood then, UTC.</param>
/// <param name="Chance">0 to 1.</param>
/// <param name="IssuedAt">UTC.</param>
public sealed record SlotChance(Instant SlotAt, double Chance, Instant IssuedAt);

/// <summary>A slot and what became of it.</summary>
public sealed record JudgedSlot(Slot Slot, SlotOutcome Outcome);
