using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The report calendar-multiget: these items (RFC 4791 s.7.9).</summary>
/// <param name="Hrefs">As they were sent, each once, in their order: one that is not understood is answered too, with
/// 404 and in the words of the client.</param>
internal sealed record Multiget(PropWish Wish, IReadOnlyList<string> Hrefs)
{
    private const int MostHrefs = 1_000;

    public static Multiget? TryRead(XElement? body, out DavFault? fault)
    {
        fault = null;
        var wish = body?.Name == DavNames.CalMultiget ? PropWish.TryRead(body, out fault) ?? PropWish.Nothing : null;

        if (wish is null || fault is not null)
        {
            fault ??= DavFault.Malformed;
            return null;
        }

        string[] sent = [.. body!.Elements(DavNames.Href).Select(href => href.Value.Trim())];
        fault = sent.Length switch
        {
            0 => DavFault.Malformed,
            > MostHrefs => DavFault.TooMany,
            _ => null,
        };

        return fault is null ? new(wish, [.. sent.Distinct(StringComparer.Ordinal)]) : null;
    }
}
