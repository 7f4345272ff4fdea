using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Ideas;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/idea and /forms/note: a text is enough.</summary>
internal static class NoteDown
{
    public const string Idea = "idea";
    public const string Note = "note";

    public static void Map(IEndpointRouteBuilder forms)
    {
        forms.MapPost($"/{Idea}", (
            SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
            CancellationToken cancel) => Keep(
                Idea, form, http, caller, pages, CreateEntry.Keep(
                    new IdeaKind(), new IdeaValues(form["text"]), caller, ledger, clock, cancel)));

        forms.MapPost($"/{Note}", (
            SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
            CancellationToken cancel) => Keep(
                Note, form, http, caller, pages, CreateEntry.Keep(
                    new NoteKind(), new NoteValues(form["text"]), caller, ledger, clock, cancel)));
    }

    private static async Task Keep<TBody>(
        string name, SentForm form, HttpContext http, Caller caller, SheetPages pages, Task<Answer<TBody>> kept) =>
        await form.Answer(http, caller, pages, name, await kept, place: $"{name}s");
}
