using System.Globalization;
using CsvHelper;
using CsvHelper.Configuration;
using Marten;
using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>GET /v1/{entries}.csv: a list as a spreadsheet, with the columns that an import takes.</summary>
internal static class ExportEntries
{
    /// <summary>The library alone would leave a single line feed unquoted.</summary>
    private static readonly CsvConfiguration Rfc4180 = new(CultureInfo.InvariantCulture)
    {
        NewLine = "\r\n",
        ShouldQuote = field => field.Field?.IndexOfAny(['"', ',', '\r', '\n', ' ']) >= 0,
    };

    public static void Map<TEntry, TValues, TBody, TFilter>(
        IEndpointRouteBuilder api, EntryKind<TEntry, TValues, TBody> kind, string tag)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
        where TFilter : IEntryFilter<TEntry>
    {
        // In a variable, as the framework's analyzer stumbles over a filter of any type.
        Delegate handle = (
            [AsParameters] TFilter filter, [AsParameters] EntryQuery common, Caller caller, HttpContext http,
            IDocumentStore store, ServiceClock clock, CancellationToken cancel) =>
            Handle(kind, filter, common, caller, http, store, clock, cancel);

        api.MapGet($"/{kind.Name}s.csv", handle)
            .WithTags(tag)
            .WithName($"export{EntryRoutes.Noun(kind.Name)}s")
            .WithSummary($"Export {kind.Name}s as CSV")
            .WithDescription("""
                The whole list, filtered alike, as text/csv (RFC 4180, UTF-8) with a header line; the columns are those
                that an import takes, lists parted by semicolons. A field that begins with =, +, - or @ is written as
                it is: a spreadsheet may take it for a formula, so open files with texts of others with care.
                """)
            .Answers(200)
            .Needs(Scope.Read);
    }

    private static async Task<IResult> Handle<TEntry, TValues, TBody, TFilter>(
        EntryKind<TEntry, TValues, TBody> kind, TFilter filter, EntryQuery common, Caller caller, HttpContext http,
        IDocumentStore store, ServiceClock clock, CancellationToken cancel)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
        where TFilter : IEntryFilter<TEntry>
    {
        if (filter.Check() is { } problem)
        {
            return (Answer<Nothing>)problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, cancel);
        http.Response.ContentType = "text/csv; charset=utf-8; header=present";
        http.Response.Headers.ContentDisposition = $"attachment; filename=\"{kind.Name}s.csv\"";

        var columns = EntryColumns<TValues>.Only;
        await using var text = new StreamWriter(http.Response.Body, leaveOpen: true);
        await using var csv = new CsvWriter(text, Rfc4180);
        await Row(csv, columns.All.Select(column => column.Name));

        var entries = filter.Apply(common.Apply(session.Query<TEntry>(), clock.Now), scene).OrderBy(entry => entry.Id);

        await foreach (var entry in entries.ToAsyncEnumerable(cancel))
        {
            if (filter.Keeps(entry, scene))
            {
                await Row(csv, columns.Write(kind.ValuesOf(entry)));
            }
        }

        return Results.Empty;
    }

    private static Task Row(CsvWriter csv, IEnumerable<string> fields)
    {
        foreach (var field in fields)
        {
            csv.WriteField(field);
        }

        return csv.NextRecordAsync();
    }
}
