using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Publishers;

/// <summary>PATCH /v1/publisher: changes name, zone, working week, days off or limits.</summary>
internal static class ChangePublisher
{
    public static void Map(IEndpointRouteBuilder publisher) => publisher
        .MapPatch("/", Handle)
        .WithName("changePublisher")
        .WithSummary("Change the publisher")
        .WithDescription("A JSON Merge Patch; lists are replaced whole.")
        .Answers(200, 404, 412, 422, 428)
        .Needs(Scope.Admin);

    private static async Task<Answer<PublisherBody>> Handle(
        MergePatch<PublisherValues> patch, Caller caller, HttpRequest request, IDocumentStore store, ServiceClock clock,
        CancellationToken cancel)
    {
        await using var session = await store.LightweightSerializableSessionAsync(cancel);

        if (await session.LoadAsync<Publisher>(caller.Publisher, cancel) is not { } publisher)
        {
            return Problems.NotFound("publisher");
        }

        if (ETags.CheckIfMatch(request, PublisherBody.Of(publisher)) is { } stale)
        {
            return stale;
        }

        var changed = patch.ApplyTo(PublisherValues.Of(publisher)).ApplyTo(publisher) with { ChangedAt = clock.Now };

        if (PublisherRules.Check(changed) is { } refusal)
        {
            return Problems.Of(refusal);
        }

        session.Store(changed);
        await session.SaveChangesAsync(cancel);

        return PublisherBody.Of(changed);
    }
}

/// <summary>What of a publisher can be changed.</summary>
/// <param name="Name">One line, 1 to 200 characters.</param>
/// <param name="Zone">IANA zone id, such as Europe/Lisbon; local dates and working hours are in it.</param>
/// <param name="WorkingWeek">When work can be done, by day, local time; empty: never; null: Monday to Friday, nine to
/// five.</param>
/// <param name="DaysOff">Local dates without work; null or empty: none.</param>
/// <param name="ProjectsAYear">How many projects are started in a calendar year at most, 0 to 100; null: 6.</param>
/// <param name="Reminders">When to be reminded; null: a day before a stage, at eight in the morning.</param>
internal sealed record PublisherValues(
    string Name, string Zone, IReadOnlyList<WorkingHoursBody>? WorkingWeek = null,
    IReadOnlyList<LocalDate>? DaysOff = null, int? ProjectsAYear = null, ReminderSettingsBody? Reminders = null)
{
    public static PublisherValues Of(Publisher publisher) => new(
        publisher.Name, publisher.Zone, [.. publisher.WorkingWeek.Select(WorkingHoursBody.Of)], publisher.DaysOff,
        publisher.ProjectsAYear, ReminderSettingsBody.Of(publisher.Reminders));

    public Publisher ApplyTo(Publisher publisher) => publisher with
    {
        Name = Name,
        Zone = Zone,
        WorkingWeek = WorkingWeek is null ? Publisher.UsualWeek : [.. WorkingWeek.Select(hours => hours.ToHours())],
        DaysOff = [.. (DaysOff ?? []).Distinct().Order()],
        ProjectsAYear = ProjectsAYear ?? Publisher.UsualProjectsAYear,
        Reminders = (Reminders ?? new()).ToSettings(),
    };
}
