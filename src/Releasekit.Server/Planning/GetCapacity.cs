using System.Diagnostics;
using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Planning;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Projects;
using Releasekit.Server.Work;

namespace Releasekit.Server.Planning;

/// <summary>GET /v1/capacity: whether all open work fits into the hours of the one who does it.</summary>
internal static class GetCapacity
{
    private const int HoursOfAWeek = 168;

    public static void Map(IEndpointRouteBuilder capacity) => capacity
        .MapGet("/", Handle)
        .WithName("getCapacity")
        .WithSummary("See whether the open work fits")
        .WithDescription("""
            One person does the work: the open stages of all releases, the open tasks of work and the open steps of
            started projects with an effort, laid into the working hours from now on that no busy appointment takes,
            what is due first first, never one beside another. "from" and "to" choose by due date what is shown; counted
            is always everything. "without" and "hours" ask "what if" and change nothing. A stage without effort counts
            as taking no time. The sum knows nothing of rest: more hours in it are no advice to work them.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<CapacityBody>> Handle(
        [FromQuery] DateParameter? from, [FromQuery] DateParameter? to, [FromQuery] Guid? without,
        [FromQuery] double? hours, Caller caller, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if (from is { } first && to is { } end && end.Value < first.Value)
        {
            return Unfit("to", "'to' lies before 'from'; the window is from included to excluded.");
        }

        if (hours is not (null or (>= 0 and <= HoursOfAWeek)))
        {
            return Unfit("hours", "'hours' are working hours a week, from 0 to 168.");
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, cancel);
        var open = await OpenReleases.Load(session, cancel);
        var tasks = await OpenTasks.Load(scene);
        var steps = await OpenSteps.Load(scene);

        if (without is { } left && open.Find(left.ToString()) is null)
        {
            return Unfit("without", "'without' names no open release; GET /v1/releases lists them.");
        }

        var now = scene.Now;
        var calendar = WorkingCalendar.Of(scene.Publisher, await BusyTimes.Load(session, now, cancel));
        var question = new CapacityQuestion(
            without?.ToString(), hours is { } taken ? Duration.FromHours(taken) : null);
        OpenWork[] work = [.. open.Work, .. tasks.Work, .. steps.Work];
        var plan = CapacityPlan.TryLay(work, calendar, now, question, out var fault)
            ?? throw new UnreachableException(fault);

        return Show(plan, open, tasks, steps, now, (question.HoursAWeek ?? calendar.WeeklyHours).TotalHours, IsShown);

        bool IsShown(Instant at) => at.InZone(calendar.Zone).Date is var date
            && (from is null || date >= from.Value.Value) && (to is null || date < to.Value.Value);
    }

    private static CapacityBody Show(
        CapacityPlan plan, OpenReleases open, OpenTasks tasks, OpenSteps steps, Instant now, double hoursAWeek,
        Func<Instant, bool> isShown) => new(
        now,
        hoursAWeek,
        plan.Fits,
        plan.Shortfall,
        plan.FirstOverflowOn,
        [.. plan.Remedies.Select(id => open.Find(id)!).Select(release => new RemedyBody(release.Id, release.Title))],
        [
            .. plan.Outlooks.Where(outlook => isShown(outlook.DueAt) && open.Find(outlook.Owner) is not null)
                .Select(outlook => ReleaseOutlookBody.Of(outlook, open.Find(outlook.Owner)!)),
        ],
        [
            // What has no due stands where it is predicted to be done.
            .. plan.Work.Where(laid => (laid.Work.DueAt ?? laid.FinishesAt) is not { } at || isShown(at))
                .Where(laid => open.Find(laid.Work.Owner) is not null)
                .Select(laid => LaidStageBody.Of(laid, open.Find(laid.Work.Owner)!)),
        ],
        [
            .. plan.Work.Where(laid => tasks.Find(laid.Work.Owner) is not null && isShown(laid.Work.DueAt!.Value))
                .Select(laid => LaidTaskBody.Of(laid, tasks.Find(laid.Work.Owner)!)),
        ],
        [
            .. plan.Work.Where(laid => steps.Find(laid.Work.Owner) is not null && isShown(laid.Work.DueAt!.Value))
                .Select(laid => LaidStepBody.Of(laid, steps.Find(laid.Work.Owner)!.Value)),
        ]);

    private static Problem Unfit(string parameter, string detail) =>
        Problems.Of("query-invalid", detail, new ProblemError(parameter, detail));
}
