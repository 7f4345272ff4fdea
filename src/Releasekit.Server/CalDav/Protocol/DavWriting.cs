using System.Text;
using System.Xml;
using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// How bodies are written: UTF-8 without a byte order mark, and nothing in them that XML 1.0 forbids, whatever the text
/// of an item holds.
/// </summary>
internal static class DavWriting
{
    public const string ContentType = "application/xml; charset=utf-8";

    /// <summary>
    /// A carriage return is written as a character reference: otherwise readers turn the CRLF of calendar data into LF
    /// (XML 1.0 s.2.11), and it would differ from what GET serves.
    /// </summary>
    public static readonly XmlWriterSettings Settings = new()
    {
        Encoding = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false),
        NewLineHandling = NewLineHandling.Entitize,
        CloseOutput = false,
    };

    private static readonly (string Prefix, XNamespace Namespace)[] Prefixes =
    [
        ("D", DavNames.Dav), ("C", DavNames.CalDav), ("CS", DavNames.CalendarServer), ("I", DavNames.AppleCalendar),
    ];

    /// <summary>
    /// Opens the root with prefixes for all that follows; there is no default namespace, as some readers of clients
    /// know prefixed names only, and as a property may stand in no namespace.
    /// </summary>
    public static void Open(XmlWriter writer, XName root)
    {
        writer.WriteStartDocument();
        writer.WriteStartElement(Prefixes[0].Prefix, root.LocalName, root.NamespaceName);

        foreach (var (prefix, name) in Prefixes)
        {
            writer.WriteAttributeString("xmlns", prefix, null, name.NamespaceName);
        }
    }

    public static void Write(XmlWriter writer, XElement element) =>
        (IsClean(element) ? element : Cleaned(element)).WriteTo(writer);

    public static void Write(XmlWriter writer, XName name, string text) =>
        Write(writer, new XElement(name, text));

    private static bool IsClean(XElement element) =>
        element.DescendantNodes().OfType<XText>().All(text => IsClean(text.Value))
        && element.DescendantsAndSelf().Attributes().All(attribute => IsClean(attribute.Value));

    private static bool IsClean(string text) => Clean(text, 0) == text.Length;

    private static XElement Cleaned(XElement element)
    {
        var copy = new XElement(element);

        foreach (var text in copy.DescendantNodes().OfType<XText>())
        {
            text.Value = Cleaned(text.Value);
        }

        foreach (var attribute in copy.DescendantsAndSelf().Attributes().Where(one => !one.IsNamespaceDeclaration))
        {
            attribute.Value = Cleaned(attribute.Value);
        }

        return copy;
    }

    /// <summary>With U+FFFD for whatever is no character of XML 1.0 (s.2.2).</summary>
    private static string Cleaned(string text)
    {
        var clean = new StringBuilder(text.Length);

        for (var i = 0; i < text.Length; i++)
        {
            var end = Clean(text, i);
            clean.Append(text, i, end - i).Append(end < text.Length ? "\ufffd" : "");
            i = end;
        }

        return clean.ToString();
    }

    /// <summary>Where the clean text that begins at an index ends.</summary>
    private static int Clean(string text, int from)
    {
        var i = from;

        while (i < text.Length)
        {
            if (XmlConvert.IsXmlChar(text[i]))
            {
                i++;
            }
            else if (i + 1 < text.Length && XmlConvert.IsXmlSurrogatePair(text[i + 1], text[i]))
            {
                i += 2;
            }
            else
            {
                break;
            }
        }

        return i;
    }
}
