using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/task-done: <c>done</c> ticks a task, <c>open</c> opens it again, named by its id.</summary>
internal static class TickTask
{
    public const string Name = "task-done";

    /// <summary>The form of the boxes on a sheet.</summary>
    public const string FormId = "tick-tasks";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        var isDone = form.Has("done");
        _ = Guid.TryParse(isDone ? form["done"] : form["open"], out var id);
        var answer = await CompleteTask.Decide(
            new TaskKind(), id, caller, ledger, clock,
            (task, now) => isDone ? (task.Complete(now, now, out var refusal), refusal) : (task.Reopen(now), null),
            cancel);

        await form.Answer(http, caller, pages, Name, answer, place: $"t-{id}");
    });
}
