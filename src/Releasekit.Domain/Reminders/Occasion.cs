namespace Releasekit.Domain.Reminders;

/// <summary>Something to be reminded of, once.</summary>
/// <param name="Type">What kind of reminder it is.</param>
/// <param name="Subject">
/// What it is about, e.g. <c>/v1/tasks/…</c>; for a stage the release's address and its key.
/// </param>
/// <param name="Key">
/// Another one exactly when a new reminder of the same subject is wanted: the slot was moved, the stage opened again,
/// the task put off.
/// </param>
/// <param name="At">When it came, UTC.</param>
/// <param name="Title">The title of the release, series, task or project.</param>
/// <param name="Facts">What else is to be known of it; by name.</param>
public sealed record Occasion(
    ReminderType Type, string Subject, string Key, Instant At, string Title, ReminderFacts Facts)
{
    /// <summary>Unique among all occasions of a publisher.</summary>
    public string Id => $"{Type}|{Subject}|{Key}";
}

/// <summary>What a reminder says of its subject; null what does not concern it.</summary>
/// <param name="Release">The id of the release.</param>
/// <param name="Series">The slug of the series.</param>
/// <param name="Stage">The key of the stage.</param>
/// <param name="StageName">Its name.</param>
/// <param name="Slot">The original local date of the slot.</param>
/// <param name="SlotAt">Where the slot stands, UTC.</param>
/// <param name="DueAt">When the stage must be done, counted back from the slot, UTC.</param>
/// <param name="Task">The id of the task.</param>
/// <param name="When">The period of the task.</param>
/// <param name="Important">Whether the task must not slip.</param>
/// <param name="Personal">Whether it takes one's own time.</param>
/// <param name="Project">The id of the project.</param>
/// <param name="FinishBy">The local date the project was to be finished by.</param>
/// <param name="Chance">How likely the release is to meet the slot by the latest forecast, 0 to 1.</param>
public sealed record ReminderFacts(
    Guid? Release = null,
    string? Series = null,
    string? Stage = null,
    string? StageName = null,
    LocalDate? Slot = null,
    Instant? SlotAt = null,
    Instant? DueAt = null,
    Guid? Task = null,
    string? When = null,
    bool? Important = null,
    bool? Personal = null,
    Guid? Project = null,
    LocalDate? FinishBy = null,
    double? Chance = null);

/// <summary>The kinds of reminders.</summary>
public enum ReminderType
{
    /// <summary>A stage is due before long.</summary>
    StageDueSoon,

    /// <summary>A stage should have been done.</summary>
    StageOverdue,

    /// <summary>A slot will be missed if nothing changes.</summary>
    SlotAtRisk,

    /// <summary>Nothing was published for a slot.</summary>
    SlotMissed,

    /// <summary>A task is to be done.</summary>
    TaskDue,

    /// <summary>A project should have been finished.</summary>
    ProjectOverdue,
}
