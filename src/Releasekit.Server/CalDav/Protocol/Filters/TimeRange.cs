using System.Xml.Linq;
using NodaTime.Text;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// A range of time (RFC 4791 section 9.9). An open side is the first or the last instant there is, so that the
/// conditions of the standard can be written down as they stand there.
/// </summary>
/// <param name="Start">Included, UTC.</param>
/// <param name="End">Excluded, UTC.</param>
internal sealed record TimeRange(Instant Start, Instant End)
{
    private static readonly InstantPattern Utc = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    /// <summary>
    /// Null when the element is none: no side at all, a side that is no date with UTC time, an end not after the start.
    /// </summary>
    public static TimeRange? TryRead(XElement element) =>
        (element.Attribute("start") is not null || element.Attribute("end") is not null)
        && TrySide(element.Attribute("start"), Instant.MinValue, out var start)
        && TrySide(element.Attribute("end"), Instant.MaxValue, out var end)
        && start < end
            ? new(start, end)
            : null;

    /// <summary>Whether a moment lies in the range.</summary>
    public bool Holds(Instant moment) => Start <= moment && End > moment;

    /// <summary>Whether a span that includes its start and excludes its end has a moment in the range.</summary>
    public bool Overlaps(Instant start, Instant end) => Start < end && End > start;

    private static bool TrySide(XAttribute? side, Instant open, out Instant moment)
    {
        moment = open;
        return side is null || Utc.Parse(side.Value).TryGetValue(open, out moment);
    }
}
