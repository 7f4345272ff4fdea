namespace Releasekit.Domain.Reminders;

/// <summary>When a publisher wants to be reminded.</summary>
/// <param name="DueSoon">How long before it is due a stage is called due soon, elapsed; zero to 30 days.</param>
/// <param name="RemindAt">Local time of day at which tasks and projects are called.</param>
/// <param name="TaskDays">How many days before its last working day a task is called, 0 to 60.</param>
/// <param name="ImportantTaskDays">The same for tasks that must not slip.</param>
public sealed record ReminderSettings(Duration DueSoon, LocalTime RemindAt, int TaskDays, int ImportantTaskDays)
{
    private const int MostDays = 60;
    private static readonly Duration LongestDueSoon = Duration.FromDays(30);

    /// <summary>
    /// A day before a stage, eight in the morning, important tasks three days ahead: what holds until the publisher
    /// says otherwise. Common practice, no source.
    /// </summary>
    public static readonly ReminderSettings Usual = new(Duration.FromHours(24), new LocalTime(8, 0), 0, 3);

    /// <summary>What is wrong with them, members under <c>/reminders</c>.</summary>
    internal IEnumerable<Fault> Faults()
    {
        if (DueSoon < Duration.Zero || DueSoon > LongestDueSoon)
        {
            yield return new("/reminders/dueSoon", "A duration from PT0S to P30D, such as P1D.");
        }

        if (TaskDays is < 0 or > MostDays)
        {
            yield return new("/reminders/taskDays", $"0 to {MostDays} days.");
        }

        if (ImportantTaskDays is < 0 or > MostDays)
        {
            yield return new("/reminders/importantTaskDays", $"0 to {MostDays} days.");
        }
    }
}
