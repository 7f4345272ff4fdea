using System.Xml;
using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The one reader of bodies that people's devices send: within narrow limits, without DTD and without ever fetching
/// anything. The encoding is what the bytes say (XML 1.0 s.4.3.3); the Content-Type is not looked at, as clients do not
/// agree on it.
/// </summary>
internal static class DavXml
{
    private const int MostCharacters = 262_144;
    private const int MostBytes = MostCharacters * 4;
    private const int MostElements = 2_000;
    private const int MostAttributes = 64;
    private const int Deepest = 32;

    private static readonly XmlReaderSettings Settings = new()
    {
        DtdProcessing = DtdProcessing.Prohibit,
        XmlResolver = null,
        MaxCharactersInDocument = MostCharacters,
        IgnoreComments = true,
        IgnoreProcessingInstructions = true,
    };

    /// <summary>Reads a body; null without a fault if there is none.</summary>
    /// <param name="body">Whole, at most 1 MiB; anything longer is refused before it is looked at.</param>
    public static XElement? TryRead(byte[] body, out DavFault? fault)
    {
        fault = body.Length > MostBytes ? DavFault.TooLarge : null;

        if (fault is not null || body.Length == 0)
        {
            return null;
        }

        try
        {
            fault = FaultIn(body);

            return fault is null ? Load(body) : null;
        }
        catch (Exception broken) when (broken is XmlException or ArgumentException or NotSupportedException)
        {
            // Beside broken XML: an encoding that does not exist, or that .NET refuses to read. The reader does not
            // say which of its limits was met, so that its length decides how a body is refused.
            fault = body.Length > MostCharacters ? DavFault.TooLarge : DavFault.Malformed;

            return null;
        }
    }

    /// <summary>Counts before anything is built.</summary>
    private static DavFault? FaultIn(byte[] body)
    {
        using var reader = Open(body);
        var elements = 0;

        while (reader.Read())
        {
            if (reader.NodeType is XmlNodeType.Element
                && (++elements > MostElements || reader.Depth >= Deepest || reader.AttributeCount > MostAttributes))
            {
                return DavFault.TooLarge;
            }
        }

        return null;
    }

    private static XElement Load(byte[] body)
    {
        using var reader = Open(body);

        return XElement.Load(reader, LoadOptions.PreserveWhitespace);
    }

    private static XmlReader Open(byte[] body) =>
        XmlReader.Create(new MemoryStream(body, writable: false), Settings);
}
