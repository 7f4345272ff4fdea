namespace Releasekit.Client.Sheets;

/// <summary>A year on one page.</summary>
public sealed record YearSheet(
    int Year,
    LocalDate Today,
    IReadOnlyList<SeriesLine> Series,
    IReadOnlyList<YearMonthLine> Months,
    IReadOnlyList<ProjectLine> UnderWay,
    IReadOnlyList<ProjectLine> Candidates);

/// <summary>A month of a year.</summary>
public sealed record YearMonthLine(
    string Month, IReadOnlyList<SheetSlot> Slots, IReadOnlyList<BigThing> BigThings);

/// <summary>Something that a year is remembered by.</summary>
/// <param name="To">Its last local date.</param>
public sealed record BigThing(BigThingKind Kind, LocalDate From, LocalDate To, string Title, bool Done);

/// <summary>What a year is remembered by.</summary>
public enum BigThingKind
{
    /// <summary>A project was begun.</summary>
    ProjectStarted,

    /// <summary>A project shall be finished by then.</summary>
    ProjectFinishBy,

    /// <summary>A project was finished.</summary>
    ProjectFinished,

    /// <summary>A series pauses.</summary>
    Break,

    /// <summary>Three days without work or more.</summary>
    DaysOff,

    /// <summary>A task that must not slip.</summary>
    ImportantTask,

    /// <summary>Two whole days in the diary or more.</summary>
    Appointment,
}

/// <summary>A project in a line.</summary>
public sealed record ProjectLine(
    Guid Project, string Title, int Rank, string? Goal, LocalDate? FinishBy, string? Standing, bool Overdue);

/// <summary>A month on one page.</summary>
public sealed record MonthSheet(
    string Month,
    LocalDate Today,
    IReadOnlyList<SeriesLine> Series,
    IReadOnlyList<SheetDay> Days,
    IReadOnlyList<StageMatrix> Matrices,
    IReadOnlyList<SheetWarning> Warnings,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetNote> Ideas);

/// <summary>A week on one page.</summary>
/// <param name="WorkingTime">Left from now on.</param>
/// <param name="LaidTime">How much of it is taken.</param>
public sealed record WeekSheet(
    string Week,
    LocalDate Today,
    IReadOnlyList<WeekDay> Days,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetWarning> Warnings,
    IReadOnlyList<SheetNote> Notes,
    Duration WorkingTime,
    Duration LaidTime);

/// <summary>A day of a week.</summary>
/// <param name="Sittings">What to work on when.</param>
/// <param name="Done">Stages completed on it.</param>
public sealed record WeekDay(SheetDay Day, IReadOnlyList<Sitting> Sittings, IReadOnlyList<DoneStage> Done);

/// <summary>A stretch of working time with what it is meant for.</summary>
/// <param name="Of">The title of the release or project; null for a task.</param>
public sealed record Sitting(Instant From, Instant To, LocalTime Begins, LocalTime Ends, string What, string? Of);

/// <summary>A stage that was completed.</summary>
public sealed record DoneStage(
    Guid Release, string Title, string Stage, string Name, bool Publication, Instant CompletedAt);

/// <summary>How a series keeps its promise in the days of a sheet.</summary>
/// <param name="Cadence">When it promises something, in words.</param>
/// <param name="Bank">Finished releases in stock now.</param>
public sealed record SeriesLine(
    string Series, string Title, string Cadence, int OnTime, int Late, int Missed, int ToCome, int Excused, int Bank);
