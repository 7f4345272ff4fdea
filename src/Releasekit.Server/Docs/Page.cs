using System.Net;
using System.Text;

namespace Releasekit.Server.Docs;

/// <summary>Writes a page of plain HTML; every text is escaped, markup comes from here only.</summary>
internal sealed class Page(string title)
{
    private readonly StringBuilder _body = new();

    /// <summary>An element with a text.</summary>
    public Page Add(string element, string text, string? attributes = null)
    {
        Open(element, attributes);
        Text(text);
        return Close(element);
    }

    public Page Open(string element, string? attributes = null)
    {
        _body.Append('<').Append(element);

        if (attributes is not null)
        {
            _body.Append(' ').Append(attributes);
        }

        _body.Append('>');
        return this;
    }

    /// <summary>A text in which what stands between back-ticks is code.</summary>
    public Page Text(string text)
    {
        foreach (var (part, i) in text.Split('`').Select((part, i) => (part, i)))
        {
            _body.Append(i % 2 == 1 ? $"<code>{Escaped(part)}</code>" : Escaped(part));
        }

        return this;
    }

    public Page Close(string element)
    {
        _body.Append("</").Append(element).Append(">\n");
        return this;
    }

    public Page Link(string address, string text) => Add("a", text, $"href=\"{Escaped(address)}\"");

    /// <summary>
    /// The whole page as an answer, with headers that allow nothing from elsewhere and nothing inline.
    /// </summary>
    public IResult Answer(HttpContext http)
    {
        http.Response.Headers.ContentSecurityPolicy =
            "default-src 'none'; style-src 'self'; img-src 'self'; base-uri 'none'; form-action 'self'; "
            + "frame-ancestors 'none'";
        http.Response.Headers["Cross-Origin-Opener-Policy"] = "same-origin";

        return TypedResults.Text(
            $"""
            <!doctype html>
            <html lang="en">
            <meta charset="utf-8">
            <meta name="viewport" content="width=device-width">
            <title>{Escaped(title)}</title>
            <link rel="stylesheet" href="/assets/docs.css">
            <main>
            {_body}</main>
            </html>

            """,
            "text/html; charset=utf-8");
    }

    public static string Escaped(string text) => WebUtility.HtmlEncode(text);
}
