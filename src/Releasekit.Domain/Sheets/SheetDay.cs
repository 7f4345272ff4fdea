using Releasekit.Domain.Statistics;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>One line of a month, or one box of a week. Dates and times in the publisher's zone.</summary>
/// <param name="Date">The local date.</param>
/// <param name="Weekday">Its ISO number, Monday 1 to Sunday 7.</param>
/// <param name="Workday">Whether it has working hours and is no day off.</param>
/// <param name="Slots">What was promised for it or published on it, by time.</param>
/// <param name="Dues">Open stages that must be done on it at the latest; those left behind stand on today.</param>
/// <param name="Tasks">Tasks for this day; those carried over stand on today.</param>
/// <param name="Appointments">By time, those of the whole day first.</param>
/// <param name="Milestones">What of the projects falls on it.</param>
public sealed record SheetDay(
    LocalDate Date,
    int Weekday,
    bool Workday,
    IReadOnlyList<SheetSlot> Slots,
    IReadOnlyList<SheetDue> Dues,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetAppointment> Appointments,
    IReadOnlyList<SheetMilestone> Milestones);

/// <summary>A promised publication, or one outside the cadence.</summary>
/// <param name="Series">The id of the series.</param>
/// <param name="SeriesTitle">Its title.</param>
/// <param name="Slot">The original local date that names the slot; null for an extra.</param>
/// <param name="At">Where the slot stands, for an extra when it was published, UTC.</param>
/// <param name="Time">The same as the publisher's local time of day.</param>
/// <param name="State">What became of the slot; null for an extra.</param>
/// <param name="Release">The release that holds it or was matched to it; null for none.</param>
/// <param name="Title">The title of that release; null for none.</param>
public sealed record SheetSlot(
    string Series, string SeriesTitle, LocalDate? Slot, Instant At, LocalTime Time, SlotStatus? State, Guid? Release,
    string? Title);

/// <summary>An open stage with the time by which it must be done.</summary>
/// <param name="Release">The id of the release.</param>
/// <param name="Title">The title of the release.</param>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Name">The name of the stage.</param>
/// <param name="LatestFinish">Counted back from the slot on the working calendar, UTC.</param>
/// <param name="Over">Whether that has passed.</param>
public sealed record SheetDue(
    Guid Release, string Title, string Stage, string Name, Instant LatestFinish, bool Over);

/// <summary>A task.</summary>
/// <param name="Id">The id of the task.</param>
/// <param name="Title">One line.</param>
/// <param name="When">The period it stands in: a day, an ISO week or a month.</param>
/// <param name="Important">Whether it must not slip.</param>
/// <param name="Sphere">Whose time it takes.</param>
/// <param name="Done">Whether it is done.</param>
/// <param name="CarriedOver">How many of its periods ended while it was open.</param>
/// <param name="Note">Anything else; null for nothing.</param>
public sealed record SheetTask(
    Guid Id, string Title, string When, bool Important, Sphere Sphere, bool Done, int CarriedOver, string? Note);

/// <summary>An idea or a note by its first line.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Title">Its first line, or the title it was given.</param>
/// <param name="NotedAt">When it came to mind, UTC.</param>
public sealed record SheetNote(Guid Id, string Title, Instant NotedAt);

/// <summary>A fixed time in the diary.</summary>
/// <param name="Id">The id of the appointment.</param>
/// <param name="Title">One line.</param>
/// <param name="Time">The publisher's local time it begins on this day; null: it takes all of it.</param>
/// <param name="Until">The local time it ends on this day; null when it lasts longer or takes all of it.</param>
/// <param name="Sphere">Whose time it takes.</param>
/// <param name="Place">Where; null when nobody said.</param>
public sealed record SheetAppointment(
    Guid Id, string Title, LocalTime? Time, LocalTime? Until, Sphere Sphere, string? Place);

/// <summary>A date of a project.</summary>
/// <param name="Project">The id of the project.</param>
/// <param name="Title">Its title.</param>
/// <param name="Kind">What the date means.</param>
/// <param name="What">What is to be done, for a step; null otherwise.</param>
/// <param name="Done">Whether it is behind.</param>
public sealed record SheetMilestone(Guid Project, string Title, MilestoneKind Kind, string? What, bool Done);

/// <summary>The dates of a project.</summary>
public enum MilestoneKind
{
    /// <summary>It was begun.</summary>
    Started,

    /// <summary>A step is meant for this day.</summary>
    Step,

    /// <summary>It shall be finished by the end of this day.</summary>
    FinishBy,

    /// <summary>It was finished.</summary>
    Finished,
}
