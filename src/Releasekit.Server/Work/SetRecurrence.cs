using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Work;

/// <summary>PUT and DELETE /v1/tasks/{id}/recurrence: how a task comes again from this one on.</summary>
internal static class SetRecurrence
{
    public static void Map(IEndpointRouteBuilder tasks, TaskKind kind)
    {
        tasks
            .MapPut("/{id:guid}/recurrence", (
                Guid id, SetRecurrenceRequest body, Caller caller, HttpRequest request, Ledger ledger,
                ServiceClock clock, CancellationToken cancel) =>
                Handle(kind, id, body.Rrule, caller, request, ledger, clock, cancel))
            .WithName("setTaskRecurrence")
            .WithSummary("Let a task come again")
            .WithDescription("""
                From this task on it comes by this rule, and its followers begin as this task is now. Open followers of
                an earlier rule are removed; they can be restored. Tasks before it, and those that are done, stay.
                """)
            .Answers(200, 404, 409, 412, 422, 428)
            .Needs(Scope.Write);

        tasks
            .MapDelete("/{id:guid}/recurrence", (
                Guid id, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock,
                CancellationToken cancel) =>
                Handle(kind, id, null, caller, request, ledger, clock, cancel))
            .WithName("endTaskRecurrence")
            .WithSummary("Let a task not come again")
            .WithDescription("This task stays; open ones after it are removed and can be restored.")
            .Answers(200, 404, 409, 412, 428)
            .Needs(Scope.Write);
    }

    private static Task<Answer<TaskBody>> Handle(
        TaskKind kind, Guid id, string? rule, Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock,
        CancellationToken cancel) =>
        ledger.Write<TaskBody>(caller.Publisher, async unit =>
        {
            var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);
            var (task, problem) = await EntryToChange.Find(kind, unit, id, request, scene);

            if (task is null)
            {
                return problem!;
            }

            if (EntryRules.Refuse(EntryRules.FaultsOfRule(rule, task.When.First)) is { } refusal)
            {
                return Problems.Of(refusal);
            }

            if (task.Recurrence is { } known)
            {
                await TasksAhead.End(unit.Documents, kind, known, task, scene);
            }

            var single = task with { Recurrence = null, ChangedAt = scene.Now };
            var changed = rule is null ? single : TasksAhead.Begin(unit.Documents, kind, rule, single, scene);
            EntryWriting.Store(kind, unit.Documents, changed);

            return kind.Show(changed, scene);
        }, cancel);
}

/// <param name="Rrule">A rule of days, RFC 5545, such as FREQ=MONTHLY;INTERVAL=3; a week or month comes when the rule
/// meets a day of it.</param>
internal sealed record SetRecurrenceRequest(string Rrule);
