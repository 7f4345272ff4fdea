using Releasekit.Domain.Releases;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>
/// POST /forms/stage: <c>tick</c> completes a stage and <c>undo</c> takes that back, both named release.stage; or
/// <c>release</c>, <c>stage</c> and <c>to</c> bring it into any state.
/// </summary>
internal static class TickStage
{
    public const string Name = "stage";

    /// <summary>The form of the marks on a sheet.</summary>
    public const string FormId = "tick-stages";

    /// <summary>Why a stage is open again that was ticked a moment ago.</summary>
    private const string TakenBack = "Ticked by mistake; taken back on the sheet.";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", Handle);

    private static async Task Handle(
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel)
    {
        var asked = Asked(form);
        var answer = await ledger.Write<Nothing>(caller.Publisher, async unit =>
        {
            if (asked is not { } deed || await unit.Release(deed.Release) is not { } release)
            {
                return Problems.NotFound("stage of a release of that id");
            }

            return release.Append(StageDecider.Record(
                release.State, deed.Stage, deed.To, deed.Note, form.Optional("url"), null, clock.Now)) is { } refusal
                    ? Problems.Of(refusal)
                    : new Nothing();
        }, cancel);

        var isOnRelease = form.Sheet is SheetAddress.Release;
        await form.Answer(
            http, caller, pages, isOnRelease ? $"{Name}-{asked?.Stage}" : Name, answer,
            place: isOnRelease ? $"s-{asked?.Stage}" : $"r-{asked?.Release}",
            query: form.Has("tick") ? $"ticked={asked?.Release}.{asked?.Stage}" : null);
    }

    private static (Guid Release, string Stage, StageState To, string? Note)? Asked(SentForm form)
    {
        var (named, stage) = (form.Optional("tick") ?? form.Optional("undo"))?.Split('.', 2) is [var release, var key]
            ? (release, key) : (form["release"], form["stage"]);

        if (!Guid.TryParse(named, out var id))
        {
            return null;
        }

        return form.Has("tick") ? (id, stage, StageState.Completed, null)
            : form.Has("undo") ? (id, stage, StageState.Ready, TakenBack)
            : Enum.TryParse<StageState>(form["to"], ignoreCase: true, out var to)
                ? (id, stage, to, form.Optional("note"))
                : null;
    }
}
