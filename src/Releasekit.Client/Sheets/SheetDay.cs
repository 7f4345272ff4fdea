using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;
using Releasekit.Client.Work;

namespace Releasekit.Client.Sheets;

/// <summary>A day with what stands on it.</summary>
/// <param name="Weekday">ISO: Monday 1 to Sunday 7.</param>
public sealed record SheetDay(
    LocalDate Date,
    int Weekday,
    bool Workday,
    IReadOnlyList<SheetSlot> Slots,
    IReadOnlyList<SheetDue> Dues,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetAppointment> Appointments,
    IReadOnlyList<SheetMilestone> Milestones);

/// <summary>A promised publication, or one outside the cadence (then slot and state are null).</summary>
public sealed record SheetSlot(
    string Series, string SeriesTitle, LocalDate? Slot, Instant At, LocalTime Time, SlotState? State, Guid? Release,
    string? Title);

/// <summary>An open stage with the time by which it must be done.</summary>
public sealed record SheetDue(
    Guid Release, string Title, string Stage, string Name, Instant LatestFinish, bool Over);

/// <summary>A task.</summary>
/// <param name="When">The period it stands in.</param>
public sealed record SheetTask(
    Guid Id, string Title, string When, bool Important, Sphere Sphere, bool Done, int CarriedOver, string? Note);

/// <summary>An idea or a note by its first line.</summary>
public sealed record SheetNote(Guid Id, string Title, Instant NotedAt);

/// <summary>A fixed time in the diary.</summary>
public sealed record SheetAppointment(
    Guid Id, string Title, LocalTime? Time, LocalTime? Until, Sphere Sphere, string? Place);

/// <summary>A date of a project.</summary>
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

/// <summary>Something that asks for a decision.</summary>
public sealed record SheetWarning(
    WarningKind Kind, Guid? Release, string Title, LocalDate? SlotOn, Duration? Shortfall, string Text);

/// <summary>What is wrong.</summary>
public enum WarningKind
{
    /// <summary>A promised time has passed, and nothing is out.</summary>
    Overdue,

    /// <summary>The work left does not fit into the hours left.</summary>
    Shortfall,

    /// <summary>A stage cannot go on.</summary>
    Blocked,

    /// <summary>A near slot that no release holds.</summary>
    Unplanned,
}

/// <summary>Releases by stages.</summary>
public sealed record StageMatrix(IReadOnlyList<MatrixColumn> Columns, IReadOnlyList<MatrixRow> Rows);

/// <summary>A stage.</summary>
public sealed record MatrixColumn(string Stage, string Name, bool Publication);

/// <summary>A release with a mark for each column.</summary>
public sealed record MatrixRow(
    Guid Release,
    string Title,
    string Series,
    string SeriesTitle,
    ReleaseState State,
    LocalDate? Slot,
    Instant? SlotAt,
    LocalDate? SlotOn,
    SlotState? SlotState,
    IReadOnlyList<MatrixMark> Marks);

/// <summary>Where a stage of a release stands.</summary>
public sealed record MatrixMark(string Stage, StageState State, Instant? CompletedAt, string? Note);
