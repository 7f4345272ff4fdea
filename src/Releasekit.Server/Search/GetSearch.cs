using Microsoft.AspNetCore.Mvc;
using Npgsql;
using Releasekit.Domain;
using Releasekit.Domain.Search;
using Releasekit.Server.Access;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Search;

/// <summary>GET /v1/search: everything the publisher has, by its words.</summary>
internal static class GetSearch
{
    private const string MostRanked = "2000";

    /// <summary>How a question is read, one after the other until something is found.</summary>
    private static readonly (bool IsLenient, bool All)[] Readings = [(false, true), (true, true), (true, false)];

    /// <summary>
    /// An exact word counts beside the beginning of one; a title counts ten times a text. A word that is in very many
    /// tells little: of those, the ones changed last are ranked.
    /// </summary>
    private const string HitsSql = $$"""
        select kind, id, address, title, body, changed_at,
          ts_rank('{0, 0.1, 0.1, 1}', terms, to_tsquery('simple', $2))
            + ts_rank('{0, 0.1, 0.1, 1}', terms, to_tsquery('simple', $3)) as score
        from (
          select * from {{SearchTables.Entries}}
          where publisher = $1 and terms @@ to_tsquery('simple', $2) and (cardinality($4) = 0 or kind = any($4))
          order by changed_at desc limit {{MostRanked}}) latest
        order by score desc, changed_at desc, id
        limit $5 offset $6
        """;

    public static void Map(IEndpointRouteBuilder search) => search
        .MapGet("/", Handle)
        .WithName("search")
        .WithSummary("Search everything")
        .WithDescription("""
            Releases, series, projects, ideas, notes, wants, tasks and appointments that hold all the words of "q", or
            words that begin with them, in any case and with or without accents; the best first. A word that occurs
            nowhere is read as a typing error of one that does; when no thing holds all the words, those with some of
            them are shown. Of more than 2000 that answer, the 2000 changed last are ranked.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<SearchHitBody>>> Handle(
        [FromQuery] string q, [FromQuery] string? kind, [AsParameters] PageQuery page, Caller caller, HttpContext http,
        NpgsqlDataSource database, CancellationToken cancel)
    {
        var typed = SearchQuestion.WordsOf(q);
        string[] kinds = [.. (kind ?? string.Empty).Split(
            ',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries)];

        if ((page.Read<SearchPosition>(http.Request, out var position) ?? Unfit(q, typed, kinds)) is { } problem)
        {
            return problem;
        }

        var (begun, offset) = position ?? new(0, 0);
        SearchQuestion? question = null;

        for (var reading = begun; reading < Readings.Length; reading++)
        {
            var (isLenient, all) = Readings[reading];
            question = question is { } known && (known.IsLenient || !isLenient)
                ? known
                : await SearchQuestion.Read(database, caller.Publisher, typed, isLenient, cancel);

            if (question.Terms(all) is { } terms
                && await Hits(database, caller.Publisher, question, terms, kinds, offset, page.Size, cancel)
                    is { Count: > 0 } hits)
            {
                var next = new SearchPosition(reading, offset + page.Size);
                return page.Page(http, hits, hit => hit, _ => next);
            }
        }

        return new PageBody<SearchHitBody>([], null);
    }

    private static async Task<IReadOnlyList<SearchHitBody>> Hits(
        NpgsqlDataSource database, string publisher, SearchQuestion question, string terms, string[] kinds, int offset,
        int size, CancellationToken cancel)
    {
        var exact = string.Join(" | ", question.Typed.Select(word => $"'{word}'"));
        await using var command = database.Command(HitsSql, publisher, terms, exact, kinds, size + 1, offset);
        await using var rows = await command.ExecuteReaderAsync(cancel);
        var hits = new List<SearchHitBody>();

        while (await rows.ReadAsync(cancel))
        {
            var (title, body) = (rows.GetString(3), rows.GetString(4));
            var inTitle = SearchExtract.Of(title, question.IsHit);
            var shown = inTitle.Any(piece => piece.IsHit) ? inTitle : SearchExtract.Of(body, question.IsHit);
            hits.Add(new(
                rows.GetString(0),
                rows.GetGuid(1),
                rows.GetString(2),
                title,
                [.. shown.Select(piece => new SearchPieceBody(piece.Text, piece.IsHit))],
                rows.GetFloat(6),
                rows.GetFieldValue<Instant>(5)));
        }

        return hits;
    }

    /// <param name="Reading">The one of <see cref="Readings"/> that found something.</param>
    private sealed record SearchPosition(int Reading, int Offset);

    private static Problem? Unfit(string q, string[] typed, string[] kinds)
    {
        if (q.Length > Wording.LongestTitle || typed.Length == 0)
        {
            return Problems.Of(
                "query-invalid", $"'q' takes words to look for, {Wording.LongestTitle} characters at most.",
                new ProblemError("q", "One word at least."));
        }

        return kinds.Except(SearchKinds.All).FirstOrDefault() is { } unknown
            ? Problems.Of(
                "query-invalid", $"There is no kind '{unknown}'; known are {string.Join(", ", SearchKinds.All)}.",
                new ProblemError("kind", "Unknown."))
            : null;
    }
}

/// <summary>The kinds of things that can be found.</summary>
internal static class SearchKinds
{
    public static readonly string[] All =
        ["release", "series", "project", "idea", "note", "want", "task", "appointment"];
}

/// <param name="Kind">release, series, project, idea, note, want, task or appointment.</param>
/// <param name="Id">Its id; a series is told by its address.</param>
/// <param name="Address">Where it can be read.</param>
/// <param name="Title">Its title, or the first line of its text.</param>
/// <param name="Extract">The part where the words stand, in order; put the texts together to read it.</param>
/// <param name="Score">The higher the better it answers; to be compared within one answer only.</param>
/// <param name="ChangedAt">When it was last changed, UTC.</param>
internal sealed record SearchHitBody(
    string Kind, Guid Id, string Address, string Title, IReadOnlyList<SearchPieceBody> Extract, double Score,
    Instant ChangedAt);

/// <param name="Text">As it was written, line breaks as spaces.</param>
/// <param name="Hit">Whether this is a word that was looked for.</param>
internal sealed record SearchPieceBody(string Text, bool Hit);
