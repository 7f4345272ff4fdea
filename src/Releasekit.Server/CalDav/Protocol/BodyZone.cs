using NodaTime.TimeZones;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The zone that a VTIMEZONE describes, whatever its name: names are private to a body. Before the first change that it
/// tells, its clocks are as they were before that change; after the last they stay.
/// </summary>
internal sealed class BodyZone : DateTimeZone
{
    private readonly ZoneInterval[] _intervals;

    private BodyZone(string id, ZoneInterval[] intervals)
        : base(id, intervals.Length == 1, intervals.Min(one => one.WallOffset), intervals.Max(one => one.WallOffset)) =>
        _intervals = intervals;

    public override ZoneInterval GetZoneInterval(Instant instant)
    {
        var (low, high) = (0, _intervals.Length - 1);
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            (low, high) = _intervals[middle].Start <= instant ? (middle, high) : (low, middle - 1);
        }

        return _intervals[low];
    }

    /// <summary>Reads a VTIMEZONE.</summary>
    /// <param name="patience">What may still be read: a STANDARD or DAYLIGHT costs 1, with a rule 20.</param>
    /// <exception cref="BodyRefusedException">It describes no clocks, or too much of them.</exception>
    public static BodyZone Read(string id, TextPart part, ref int patience)
    {
        var parts = part.Parts.Where(one => one.Name is "STANDARD" or "DAYLIGHT").ToList();
        patience -= parts.Sum(one => one.First("RRULE") is null ? 1 : 20);
        if (patience < 0)
        {
            throw new BodyRefusedException(BodyFault.TooMany("The VTIMEZONEs have too many parts."));
        }

        var changes = parts.SelectMany(ZoneChanges.Of).OrderBy(change => change.At).ToList();

        return changes.Count > 0
            ? new(id, [.. Intervals(id, changes)])
            : throw new BodyRefusedException(BodyFault.Malformed("A VTIMEZONE says nothing of its clocks."));
    }

    private static IEnumerable<ZoneInterval> Intervals(string id, List<ZoneChange> changes)
    {
        Instant? start = null;
        var offset = changes[0].From;
        foreach (var change in changes)
        {
            // Of changes at one instant the last counts, and what changes nothing parts nothing.
            if (change.To != offset && change.At != start)
            {
                yield return new(id, start, change.At, offset, Offset.Zero);
                start = change.At;
            }

            offset = change.To;
        }

        yield return new(id, start, null, offset, Offset.Zero);
    }
}
