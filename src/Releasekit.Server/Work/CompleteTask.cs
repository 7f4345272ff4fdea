using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Work;

/// <summary>POST /v1/tasks/{id}/complete and /reopen.</summary>
internal static class CompleteTask
{
    public static void Map(IEndpointRouteBuilder tasks, TaskKind kind)
    {
        tasks
            .MapPost("/{id:guid}/complete", (
                Guid id, CompleteTaskRequest? body, Caller caller, Ledger ledger, ServiceClock clock,
                CancellationToken cancel) =>
                Decide(
                    kind, id, caller, ledger, clock,
                    (task, now) => (task.Complete(body?.At ?? now, now, out var refusal), refusal), cancel))
            .WithName("completeTask")
            .WithSummary("Tick a task")
            .WithDescription("One that is done already is left as it is, so that scripts may repeat.")
            .Answers(200, 404, 422)
            .Needs(Scope.Write);

        tasks
            .MapPost("/{id:guid}/reopen", (
                Guid id, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
                Decide(kind, id, caller, ledger, clock, (task, now) => (task.Reopen(now), null), cancel))
            .WithName("reopenTask")
            .WithSummary("Untick a task")
            .WithDescription("One that is open is left as it is.")
            .Answers(200, 404)
            .Needs(Scope.Write);
    }

    /// <summary>Changes a task by <paramref name="decide"/> and shows it as it is then.</summary>
    public static Task<Answer<TaskBody>> Decide(
        TaskKind kind, Guid id, Caller caller, Ledger ledger, ServiceClock clock,
        Func<PlannedTask, Instant, (PlannedTask? Task, Domain.Refusal? Refusal)> decide, CancellationToken cancel) =>
        ledger.Write<TaskBody>(caller.Publisher, async unit =>
        {
            if (await unit.Documents.LoadAsync<PlannedTask>(id, cancel) is not { RemovedAt: null } task)
            {
                return Problems.NotFound("task of that id");
            }

            var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);
            var (changed, refusal) = decide(task, scene.Now);

            if (refusal is not null)
            {
                return Problems.Of(refusal);
            }

            if (changed != task)
            {
                EntryWriting.Store(kind, unit.Documents, changed!);
            }

            return kind.Show(changed!, scene);
        }, cancel);
}

/// <param name="At">When it was done; now when left out.</param>
internal sealed record CompleteTaskRequest(Instant? At = null);
