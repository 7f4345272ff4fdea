using JasperFx.Events;
using Marten;

namespace Releasekit.Server.Store;

/// <summary>
/// Where events come from, kept in their headers: what was imported, restored or made for a demo is never told to other
/// tools.
/// </summary>
internal sealed class Origin
{
    private const string Header = "origin";

    /// <summary>Set while the service fills itself with a demo; null in ordinary work.</summary>
    public string? Current { get; set; }

    public void Mark(IDocumentSession session)
    {
        if (Current is { } current)
        {
            Mark(session, current);
        }
    }

    /// <summary>Where an event comes from; null when it was made in ordinary work.</summary>
    public static string? Of(IEvent stored) => stored.GetHeader(Header)?.ToString();

    public static void Mark(IDocumentSession session, string origin) => session.SetHeader(Header, origin);
}
