using System.Buffers;

namespace Releasekit.Server.Calendar;

/// <summary>
/// Writes an iCalendar object (RFC 5545) as UTF-8. Pure: no clock, no I/O, the same head and entries give the same
/// bytes, so an ETag may be made of them. Zones come first, by id, each once and only if a time is written in it; then
/// the entries in the order given.
/// </summary>
internal static class CalendarWriter
{
    private const int UsualEntryOctets = 700;

    public static byte[] Write(CalendarHead head, IReadOnlyCollection<CalendarEntry> entries)
    {
        var output = new ArrayBufferWriter<byte>((entries.Count + 2) * UsualEntryOctets);
        var lines = new ContentLines(output);
        var zones = new ZonesUsed();
        foreach (var entry in entries)
        {
            entry.Collect(zones);
        }

        lines.Begin("VCALENDAR");
        head.Write(lines);
        zones.Write(lines);
        foreach (var entry in entries)
        {
            entry.Write(lines);
        }

        lines.End("VCALENDAR");
        return output.WrittenSpan.ToArray();
    }
}
