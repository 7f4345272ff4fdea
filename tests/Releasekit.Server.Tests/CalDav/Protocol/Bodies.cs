using System.Text;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>Bodies as clients put them, built around what a test is about.</summary>
internal static class Bodies
{
    public const string Slot = "UID:slot-12\nDTSTART:20260305T070000Z";
    public const string Stage = "UID:stage-1\nDUE:20260304T180000Z";

    public static string Event(string properties, string beside = "") => Calendar(Part("VEVENT", properties), beside);

    public static string Todo(string properties) => Calendar(Part("VTODO", properties));

    /// <summary>A calendar of whole components, its lines ended as the standard asks.</summary>
    public static string Calendar(params string[] parts) => Lines(
        ["BEGIN:VCALENDAR", "VERSION:2.0", "PRODID:-//Mudflat//Test//EN", .. parts, "END:VCALENDAR"]);

    public static string Part(string name, string properties) => Lines($"BEGIN:{name}", properties, $"END:{name}");

    public static string Lines(params string[] lines) => string.Join('\n', lines.Where(line => line.Length > 0))
        .Replace("\r", "", StringComparison.Ordinal)
        .Replace("\n\n", "\n", StringComparison.Ordinal)
        .TrimEnd('\n')
        .Replace("\n", "\r\n", StringComparison.Ordinal) + "\r\n";

    public static CalendarBody Read(string body, ComponentKind wanted = ComponentKind.Event)
    {
        var read = CalendarBody.TryRead(
            Encoding.UTF8.GetBytes(body), "text/calendar; charset=utf-8", wanted, out var fault);

        Assert.Null(fault);
        return read!;
    }

    /// <summary>The status and condition that a body is refused with.</summary>
    public static string Fault(
        string body, ComponentKind wanted = ComponentKind.Event, string? contentType = "text/calendar")
    {
        var read = CalendarBody.TryRead(Encoding.UTF8.GetBytes(body), contentType, wanted, out var fault);

        Assert.Null(read);
        Assert.DoesNotContain('\n', fault!.Detail);
        return $"{fault.Status} {fault.Condition}";
    }
}
