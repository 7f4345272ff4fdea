using System.Globalization;
using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>How far down a synchronisation looks.</summary>
internal enum SyncLevel
{
    /// <summary>The members of the collection.</summary>
    One,

    /// <summary>All that is below it.</summary>
    Infinite,
}

/// <summary>The report sync-collection: what changed since a token (RFC 6578 s.3.2 and 6.1).</summary>
/// <param name="Token">Null the first time, when everything is new.</param>
/// <param name="Limit">The most changes that the client takes in one answer; null if it takes any number.</param>
internal sealed record SyncCollection(string? Token, SyncLevel Level, int? Limit, PropWish Wish)
{
    public static SyncCollection? TryRead(XElement? body, out DavFault? fault)
    {
        fault = null;
        var wish = body?.Name == DavNames.SyncCollection ? PropWish.TryRead(body, out fault) : null;
        var token = body?.Element(DavNames.SyncToken)?.Value.Trim();
        var level = LevelOf(body?.Element(DavNames.SyncLevel)?.Value.Trim());
        var limit = LimitOf(body?.Element(DavNames.Limit), out var isLimit);

        if (wish is null || token is null || level is null || !isLimit)
        {
            fault ??= DavFault.Malformed;
            return null;
        }

        return new(token.Length == 0 ? null : token, level.Value, limit, wish);
    }

    /// <summary>Drafts before the RFC knew no level; their clients mean the members.</summary>
    private static SyncLevel? LevelOf(string? text) => text switch
    {
        null or "1" => SyncLevel.One,
        "infinite" => SyncLevel.Infinite,
        _ => null,
    };

    private static int? LimitOf(XElement? limit, out bool isLimit)
    {
        var text = limit?.Element(DavNames.MostResults)?.Value.Trim() ?? "";
        var digits = text.TrimStart('0');
        isLimit = limit is null || (digits.Length > 0 && digits.All(char.IsAsciiDigit));

        return limit is null || !isLimit ? null
            : int.TryParse(digits, NumberStyles.None, CultureInfo.InvariantCulture, out var most) ? most
            : int.MaxValue;
    }
}
