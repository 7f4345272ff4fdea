using System.Text;
using System.Text.Json;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>
/// Hostile bodies, each of which must end in its class. Checks/hostile.json (our own collection; RFC 5545 and the
/// measured behaviour of Ical.Net 5.2.4 behind it).
/// </summary>
public class HostileBodyTests
{
    private static readonly Lazy<JsonElement[]> Known = new(() => [.. JsonDocument
        .Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", "hostile.json")))
        .RootElement.GetProperty("cases").EnumerateArray()
        .Where(one => one.GetProperty("kind").GetString() == "ics")]);

    public static TheoryData<string> Ids => [.. Known.Value.Select(one => one.GetProperty("id").GetString()!)];

    [Theory]
    [MemberData(nameof(Ids))]
    public void A_hostile_body_ends_in_its_class(string id)
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == id);
        var sent = TextOf(hostile);

        var body = CalendarBody.TryRead(
            Encoding.UTF8.GetBytes(sent), "text/calendar", ComponentKind.Event, out var fault);

        if (hostile.GetProperty("expect").GetString() == "accepted")
        {
            Assert.Null(fault);
            Assert.Equal(sent, body!.Raw);
            Assert.Equal(sent, body.Text.Remove("X-NONE").ToString().Replace("\r\n ", "", StringComparison.Ordinal));
        }
        else
        {
            Assert.Null(body);
            Assert.InRange(fault!.Status, 400, 499);
        }
    }

    private static string TextOf(JsonElement hostile)
    {
        var text = hostile.GetProperty("input").GetString()!;

        return hostile.TryGetProperty("repeat", out var repeat)
            ? text.Replace(
                repeat.GetProperty("token").GetString()!,
                string.Concat(Enumerable.Repeat(
                    repeat.GetProperty("text").GetString()!, repeat.GetProperty("times").GetInt32())),
                StringComparison.Ordinal)
            : text;
    }
}
