using Releasekit.Domain.Publishers;
using Releasekit.Server.Http;

namespace Releasekit.Server.Publishers;

/// <param name="Id">The slug of the publisher.</param>
/// <param name="Name">What people call the publisher.</param>
/// <param name="Zone">IANA zone id.</param>
/// <param name="WorkingWeek">When work can be done, by day, local time.</param>
/// <param name="DaysOff">Local dates without work.</param>
/// <param name="OpenedAt">When it was opened, UTC.</param>
/// <param name="ProjectsAYear">How many projects are started in a calendar year at most, 0 to 100.</param>
/// <param name="Reminders">When it is reminded.</param>
internal sealed record PublisherBody(
    string Id, string Name, string Zone, IReadOnlyList<WorkingHoursBody> WorkingWeek, IReadOnlyList<LocalDate> DaysOff,
    Instant OpenedAt, int ProjectsAYear, ReminderSettingsBody Reminders)
    : ITagged
{
    public static PublisherBody Of(Publisher publisher) => new(
        publisher.Id,
        publisher.Name,
        publisher.Zone,
        [.. publisher.WorkingWeek.Select(WorkingHoursBody.Of)],
        publisher.DaysOff,
        publisher.OpenedAt,
        publisher.ProjectsAYear,
        ReminderSettingsBody.Of(publisher.Reminders));
}

/// <param name="Day">The day of the week.</param>
/// <param name="From">Local time of day, included.</param>
/// <param name="To">Local time of day of the same day, excluded.</param>
internal sealed record WorkingHoursBody(Weekday Day, LocalTime From, LocalTime To)
{
    public static WorkingHoursBody Of(WorkingHours hours) => new((Weekday)(int)hours.Day, hours.From, hours.To);

    public WorkingHours ToHours() => new((IsoDayOfWeek)(int)Day, From, To);
}

/// <summary>Days as ISO 8601 counts them.</summary>
internal enum Weekday
{
    Monday = 1,
    Tuesday,
    Wednesday,
    Thursday,
    Friday,
    Saturday,
    Sunday,
}
