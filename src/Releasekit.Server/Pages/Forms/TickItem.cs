using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/item: ticks or unticks an item of a stage's checklist.</summary>
internal static class TickItem
{
    public const string Name = "item";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        var answer = await ledger.Write<Nothing>(caller.Publisher, async unit =>
        {
            if (!Guid.TryParse(form["release"], out var id) || await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            return release.Append(StageDecider.Tick(
                release.State, form["stage"], form["item"], form["ticked"] == "true", clock.Now)) is { } refusal
                    ? Problems.Of(refusal)
                    : new Nothing();
        }, cancel);

        await form.Answer(http, caller, pages, $"stage-{form["stage"]}", answer, place: $"s-{form["stage"]}");
    });
}
