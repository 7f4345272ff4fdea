using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/task-done: ticks a task, or opens it again.</summary>
internal static class TickTask
{
    public const string Name = "task-done";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        _ = Guid.TryParse(form["task"], out var id);
        var isDone = form["done"] != "false";
        var answer = await CompleteTask.Decide(
            new TaskKind(), id, caller, ledger, clock,
            (task, now) => isDone ? (task.Complete(now, now, out var refusal), refusal) : (task.Reopen(now), null),
            cancel);

        await form.Answer(http, caller, pages, Name, answer, place: $"t-{id}");
    });
}
