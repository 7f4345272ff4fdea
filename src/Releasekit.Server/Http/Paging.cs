using System.Buffers.Text;
using System.Security.Cryptography;
using System.Text;
using System.Text.Json;
using Microsoft.AspNetCore.Mvc;

namespace Releasekit.Server.Http;

/// <summary>How much of a list is wanted, and from where on.</summary>
/// <param name="Limit">Items a page; default 50, more than 200 is taken as 200.</param>
/// <param name="Cursor">What the page before gave as "next"; goes with the filters it was given out for.</param>
internal sealed record PageQuery(
    [property: FromQuery(Name = "limit")] int? Limit = null,
    [property: FromQuery(Name = "cursor")] string? Cursor = null)
{
    private const int Usual = 50;
    private const int Most = 200;

    /// <summary>How many items to show.</summary>
    public int Size => Math.Min(Limit ?? Usual, Most);

    /// <summary>The position the cursor stands for: the default for the first page.</summary>
    public Problem? Read<TPosition>(HttpRequest request, out TPosition? position)
    {
        position = default;

        if (Limit < 1)
        {
            return Problems.Of(
                "query-invalid", "'limit' takes 1 to 200.", new ProblemError("limit", "Takes 1 to 200."));
        }

        if (Cursor is null)
        {
            return null;
        }

        try
        {
            var (filters, at) = JsonSerializer.Deserialize<Position<TPosition>>(
                Base64Url.DecodeFromChars(Cursor), ApiJson.Options)!;
            position = at;
            return filters == FiltersOf(request) ? null : Unfit();
        }
        catch (Exception e) when (e is FormatException or JsonException)
        {
            return Unfit();
        }
    }

    /// <summary>
    /// A page of <paramref name="items"/>, of which there is one more than <see cref="Size"/> when the list goes on.
    /// </summary>
    public PageBody<TBody> Page<TItem, TBody, TPosition>(
        HttpContext http, IReadOnlyList<TItem> items, Func<TItem, TBody> show, Func<TItem, TPosition> positionOf)
    {
        var shown = items.Take(Size).ToArray();
        var next = items.Count > Size
            ? Base64Url.EncodeToString(JsonSerializer.SerializeToUtf8Bytes(
                new Position<TPosition>(FiltersOf(http.Request), positionOf(shown[^1])), ApiJson.Options))
            : null;

        if (next is not null)
        {
            var others = http.Request.Query
                .Where(parameter => parameter.Key != "cursor")
                .Select(parameter => $"{parameter.Key}={Uri.EscapeDataString(parameter.Value.ToString())}&");
            http.Response.Headers.Link = $"<{http.Request.Path}?{string.Concat(others)}cursor={next}>; rel=\"next\"";
        }

        return new([.. shown.Select(show)], next);
    }

    private static Problem Unfit() => Problems.Of(
        "cursor-invalid", "The cursor was not given out for these filters; begin without one.",
        new ProblemError("cursor", "Does not fit."));

    private static string FiltersOf(HttpRequest request)
    {
        var filters = request.Query
            .Where(parameter => parameter.Key is not ("cursor" or "limit"))
            .OrderBy(parameter => parameter.Key, StringComparer.Ordinal)
            .Select(parameter => $"{parameter.Key}={parameter.Value}");

        var digest = SHA256.HashData(Encoding.UTF8.GetBytes($"{request.Path}?{string.Join('&', filters)}"));
        return Base64Url.EncodeToString(digest.AsSpan(0, 9));
    }

    private sealed record Position<TPosition>(string Filters, TPosition At);
}

/// <summary>One page of a list, in a stable order.</summary>
/// <param name="Items">Those of this page, in the order of the list.</param>
/// <param name="Next">The cursor of the next page; null on the last. The Link header says the same.</param>
internal sealed record PageBody<TBody>(IReadOnlyList<TBody> Items, string? Next);
