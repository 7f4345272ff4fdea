using NodaTime.Text;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Releases;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/release: plans a release for a free slot, or for none.</summary>
internal static class PlanFromPage
{
    public const string Name = "release";

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        var id = NewIds.Next();
        var (series, slot) = SlotOf(form["slot"]);
        var answer = series.Length == 0
            ? Problems.Of(
                "series.unknown", "There is no series yet that it could belong to; open one first.",
                new ProblemError("/slot", "Unknown."))
            : await ledger.Write(
                caller.Publisher,
                unit => PlanRelease.Begin(unit, id, new(series, form["title"], slot), clock.Now, cancel), cancel);

        await form.Answer(http, caller, pages, Name, answer, place: $"r-{id}");
    });

    /// <summary>What the form chose: a series alone, or with the date of a slot after a blank.</summary>
    private static (string Series, LocalDate? Slot) SlotOf(string text) => text.Split(' ') switch
    {
        [var series, var date] when LocalDatePattern.Iso.Parse(date) is { Success: true, Value: var slot } =>
            (series, slot),
        [var series, ..] => (series, null),
        _ => (string.Empty, null),
    };
}
