using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Timeliness;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/projects/timeliness: whether things take the time they were given.</summary>
internal static class GetTimeliness
{
    private const int LongestDays = 3660;

    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapGet("/timeliness", Handle)
        .WithName("getTimeliness")
        .WithSummary("Read whether things take the time they were given")
        .WithDescription("""
            Of finished projects, what they took from their start against what was allotted then (the date promised
            first, whatever was moved since); of stages, their working hours against their planned effort. "days" asks
            what the past suggests for a new project of that size. A heap at 1 is the trace of work that fills its time,
            or of a plan that was written into the log; these figures cannot tell which.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<TimelinessBody>> Handle(
        [FromQuery] double? days, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (days is not (null or (> 0 and <= LongestDays)))
        {
            return Problems.Of(
                "query-invalid", $"'days' is above 0, at most {LongestDays}.",
                new ProblemError("days", "How many days you would give a new project."));
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await WorkScene.Load(session, at: null, clock.Now, cancel);
        var finished = await session.Query<Project>()
            .Where(project => project.State == ProjectState.Finished)
            .OrderBy(project => project.Id)
            .ToListAsync(cancel);
        var zone = scene.Calendar.Zone;
        Allotment[] projects = [.. finished.Select(project => OfProject(project, zone)).OfType<Allotment>()];

        return new TimelinessBody(
            scene.At,
            TimelinessFigures.Of(projects),
            days is { } size ? SuggestionBody.Of(projects, size, scene.At.InZone(zone).Date) : null,
            [.. Stages(scene)]);
    }

    /// <summary>
    /// Inclusive days from the start to the date promised first, and to the finish: what was finished on the promised
    /// date took just what it was given.
    /// </summary>
    private static Allotment? OfProject(Project project, DateTimeZone zone)
    {
        return project is { StartedAt: { } start, FinishedAt: { } finish, PromisedBy: { } promised }
            ? new(Days(start, promised), Days(start, finish.InZone(zone).Date))
            : null;

        int Days(Instant from, LocalDate to) => Math.Max(0, Period.DaysBetween(from.InZone(zone).Date, to) + 1);
    }

    /// <summary>By series and stage: only releases that tell both, starts and effort.</summary>
    private static IEnumerable<StageTimelinessBody> Stages(WorkScene scene) =>
        from facts in scene.Facts
        where facts.PublishedAt is not null
        from stage in facts.Stages
        let effort = stage.Effort
        where effort is not null && stage is { IsSkipped: false, CompletedAt: not null }
            && stage.Role is not StageRole.Publication
            && stage.Visits.All(visit => visit.From is not null)
        let pair = new Allotment(effort.Value.TotalHours, scene.Worked.On(facts.Release, stage.Key))
        group pair by (facts.Series, stage.Key) into alike
        orderby alike.Key
        select new StageTimelinessBody(alike.Key.Series, alike.Key.Key, TimelinessFigures.Of([.. alike]));
}

/// <param name="At">As of now, UTC.</param>
/// <param name="Projects">Of finished projects, in inclusive days: local dates, both counted.</param>
/// <param name="Suggestion">What the past suggests for a new one; null when "days" was not asked.</param>
/// <param name="Stages">Of stages of published releases, in working hours; those ticked without a start tell nothing.
/// </param>
internal sealed record TimelinessBody(
    Instant At, TimelinessFigures Projects, SuggestionBody? Suggestion, IReadOnlyList<StageTimelinessBody> Stages);

/// <param name="Series">The id of the series.</param>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Figures">Working hours against planned effort.</param>
internal sealed record StageTimelinessBody(string Series, string Stage, TimelinessFigures Figures);

/// <param name="Days">What would be allotted by gut.</param>
/// <param name="ByPercent">What so many per cent of past projects would have kept, at 50, 70, 85 and 95 %.</param>
internal sealed record SuggestionBody(double Days, IReadOnlyList<SuggestedDateBody> ByPercent)
{
    public static SuggestionBody Of(IReadOnlyList<Allotment> past, double days, LocalDate today) => new(
        days,
        [
            .. Spread.Shown.Select(percent => TimelinessFigures.Suggest(past, days, percent, FigureUnit.InclusiveDays))
                .Zip(Spread.Shown, (size, percent) => new SuggestedDateBody(
                    percent, size, size.Value is { } value ? today.PlusDays((int)Math.Ceiling(value) - 1) : null)),
        ]);
}

/// <param name="Percent">The share of past projects that would have kept it.</param>
/// <param name="Days">Inclusive days to allot; with its interval, or with the reason why there is none.</param>
/// <param name="FinishBy">The local date, begun today; null when there is none.</param>
internal sealed record SuggestedDateBody(int Percent, Figure Days, LocalDate? FinishBy);
