using Releasekit.Domain.Reminders;

namespace Releasekit.Server.Publishers;

/// <param name="DueSoon">How long before it is due a stage is called due soon, elapsed; P1D when left out.</param>
/// <param name="RemindAt">Local time of day at which tasks and projects are called; 08:00 when left out.</param>
/// <param name="TaskDays">How many days before the last working day of its period a task is called; 0 when left out.
/// </param>
/// <param name="ImportantTaskDays">The same for important tasks; 3 when left out.</param>
internal sealed record ReminderSettingsBody(
    Duration? DueSoon = null, LocalTime? RemindAt = null, int? TaskDays = null, int? ImportantTaskDays = null)
{
    public static ReminderSettingsBody Of(ReminderSettings settings) =>
        new(settings.DueSoon, settings.RemindAt, settings.TaskDays, settings.ImportantTaskDays);

    public ReminderSettings ToSettings() => new(
        DueSoon ?? ReminderSettings.Usual.DueSoon,
        RemindAt ?? ReminderSettings.Usual.RemindAt,
        TaskDays ?? ReminderSettings.Usual.TaskDays,
        ImportantTaskDays ?? ReminderSettings.Usual.ImportantTaskDays);
}
