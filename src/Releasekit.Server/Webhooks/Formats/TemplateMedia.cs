using System.Text.Encodings.Web;
using System.Text.Unicode;
using Fluid;
using Microsoft.Net.Http.Headers;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>What the body of a template is sent as, and how what it inserts is escaped for that.</summary>
/// <param name="Type">Such as <c>application/json</c>.</param>
internal sealed record TemplateMedia(string Type, TextEncoder Encoder, bool IsJson)
{
    /// <summary>What would be right.</summary>
    public const string Offer =
        "A media type of text or application in UTF-8, such as text/plain, application/json or "
        + "application/x-www-form-urlencoded.";

    private const int Longest = 100;

    private static readonly HtmlEncoder Html = HtmlEncoder.Create(UnicodeRanges.All);

    /// <summary>For Content-Type.</summary>
    public string Written => $"{Type}; charset=utf-8";

    public static TemplateMedia? TryParse(string? text)
    {
        if (text is not { Length: > 0 and <= Longest } || !MediaTypeHeaderValue.TryParse(text, out var media)
            || media.Type.Value?.ToLowerInvariant() is not ("text" or "application")
            || media.SubType == "*"
            || !media.Parameters.All(one => one.Name.Equals("charset", StringComparison.OrdinalIgnoreCase)
                && one.GetUnescapedValue().Equals("utf-8", StringComparison.OrdinalIgnoreCase)))
        {
            return null;
        }

        var type = media.MediaType.Value!.ToLowerInvariant();
        var form = (media.Suffix.HasValue ? media.Suffix : media.SubType).Value!.ToLowerInvariant();

        return form switch
        {
            "json" => new(type, JavaScriptEncoder.UnsafeRelaxedJsonEscaping, IsJson: true),
            "html" or "xml" => new(type, Html, IsJson: false),
            "x-www-form-urlencoded" => new(type, UrlEncoder.Default, IsJson: false),
            _ => new(type, NullEncoder.Default, IsJson: false),
        };
    }
}
