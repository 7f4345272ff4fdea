using System.Globalization;
using System.Xml;
using System.Xml.Linq;
using Microsoft.AspNetCore.WebUtilities;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// Writes the body of a 207 (RFC 4918 s.13) while its parts are found, so that a whole calendar is never held in
/// memory. What was begun and does not reach <see cref="End"/> stays broken XML, which no client takes for an answer.
/// </summary>
internal sealed class MultiStatus : IDisposable
{
    private const int ChunkBytes = 16 * 1024;

    private readonly MemoryStream _chunk = new();
    private readonly XmlWriter _writer;
    private readonly Stream _body;
    private readonly bool _isMinimal;

    /// <param name="body">Is only written to asynchronously, and stays open.</param>
    /// <param name="isMinimal">Leaves out what is not found, see <see cref="ReturnPreference"/>.</param>
    public MultiStatus(Stream body, bool isMinimal)
    {
        (_body, _isMinimal) = (body, isMinimal);
        _writer = XmlWriter.Create(_chunk, DavWriting.Settings);
        DavWriting.Open(_writer, DavNames.MultiStatus);
    }

    /// <summary>A resource and its properties, grouped by what became of them.</summary>
    public async Task Response(string href, IEnumerable<PropAnswer> properties, CancellationToken cancel)
    {
        var groups = properties
            .Where(property => !_isMinimal || property.Status != StatusCodes.Status404NotFound)
            .GroupBy(property => (property.Status, property.Condition))
            .OrderBy(group => group.Key.Status)
            .ToList();

        Start(DavNames.Response);
        DavWriting.Write(_writer, DavNames.Href, href);

        foreach (var group in groups)
        {
            PropStat(group.Key.Status, group.Select(property => property.Property), group.Key.Condition);
        }

        // A response must hold something (RFC 4918 s.14.24, RFC 8144 s.2.1), and it is not an error.
        if (groups.Count == 0)
        {
            PropStat(StatusCodes.Status200OK, [], null);
        }

        _writer.WriteEndElement();
        await Send(ChunkBytes, cancel);
    }

    /// <summary>A resource about which there is only a status to tell: most often that it is not, or no more.</summary>
    public async Task Response(string href, int status, CancellationToken cancel, XName? condition = null)
    {
        Start(DavNames.Response);
        DavWriting.Write(_writer, DavNames.Href, href);
        Status(status);
        Error(condition);
        _writer.WriteEndElement();
        await Send(ChunkBytes, cancel);
    }

    /// <summary>Says that there is more than this answer holds (RFC 6578 s.3.6).</summary>
    /// <param name="collection">What was asked.</param>
    public Task Truncated(Href collection, CancellationToken cancel) => Response(
        collection.ToString(), StatusCodes.Status507InsufficientStorage, cancel, DavConditions.MatchesWithinLimits);

    /// <summary>Ends the body; nothing can follow.</summary>
    /// <param name="syncToken">Where the next synchronisation begins, in answers to sync-collection.</param>
    public async Task End(CancellationToken cancel, string? syncToken = null)
    {
        if (syncToken is not null)
        {
            DavWriting.Write(_writer, DavNames.SyncToken, syncToken);
        }

        _writer.WriteEndDocument();
        await Send(0, cancel);
    }

    public void Dispose()
    {
        _writer.Dispose();
        _chunk.Dispose();
    }

    private void PropStat(int status, IEnumerable<XElement> properties, XName? condition)
    {
        Start(DavNames.PropStat);
        Start(DavNames.Prop);

        foreach (var property in properties)
        {
            DavWriting.Write(_writer, property);
        }

        _writer.WriteEndElement();
        Status(status);
        Error(condition);
        _writer.WriteEndElement();
    }

    private void Status(int status) => DavWriting.Write(_writer, DavNames.Status, string.Create(
        CultureInfo.InvariantCulture, $"HTTP/1.1 {status} {ReasonPhrases.GetReasonPhrase(status)}"));

    private void Error(XName? condition)
    {
        if (condition is not null)
        {
            DavWriting.Write(_writer, new(DavNames.Error, new XElement(condition)));
        }
    }

    private void Start(XName name) => _writer.WriteStartElement(name.LocalName, name.NamespaceName);

    /// <summary>Passes on what has been written, once it is worth it.</summary>
    private async Task Send(int atLeast, CancellationToken cancel)
    {
        _writer.Flush();

        if (_chunk.Length > 0 && _chunk.Length >= atLeast)
        {
            await _body.WriteAsync(_chunk.GetBuffer().AsMemory(0, (int)_chunk.Length), cancel);
            _chunk.SetLength(0);
        }
    }
}
