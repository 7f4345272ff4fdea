using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/stage: completes a stage, or brings it into the state that the form names.</summary>
internal static class TickStage
{
    public const string Name = "stage";

    /// <summary>Why a stage is open again that was ticked a moment ago.</summary>
    private const string TakenBack = "Ticked by mistake; taken back on the sheet.";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", Handle);

    private static async Task Handle(
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel)
    {
        var stage = form["stage"];
        var isKnown = Enum.TryParse<StageState>(form["to"], ignoreCase: true, out var to)
            & Guid.TryParse(form["release"], out var id);
        var note = form.Has("undo") ? TakenBack : form.Optional("note");

        var answer = await ledger.Write<Nothing>(caller.Publisher, async unit =>
        {
            if (!isKnown || await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            return release.Append(StageDecider.Record(
                release.State, stage, to, note, form.Optional("url"), null, clock.Now)) is { } refusal
                    ? Problems.Of(refusal)
                    : new Nothing();
        }, cancel);

        // On a sheet a wrong tick can be taken back at once; a release has its own buttons.
        var isTick = to is StageState.Completed && form.Sheet is not SheetAddress.Release;

        await form.Answer(
            http, caller, pages, $"{Name}-{stage}", answer,
            place: form.Sheet is SheetAddress.Release ? $"s-{stage}" : $"r-{id}",
            query: isTick ? $"ticked={id}.{Uri.EscapeDataString(stage)}" : null);
    }
}
