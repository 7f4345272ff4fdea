using System.Text;
using CsCheck;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>Whatever is sent is read or refused; nothing else ever comes of it.</summary>
public class AnyBodyTests
{
    private static readonly string[] Frequencies = ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"];

    private static readonly string[] Lists =
    [
        "BYMONTH=2", "BYMONTH=02,12", "BYMONTHDAY=-31", "BYMONTHDAY=30", "BYYEARDAY=-366,366", "BYWEEKNO=-53",
        "BYDAY=MO", "BYDAY=-53SU", "BYDAY=+1MO,TU", "BYSETPOS=-366", "BYSETPOS=1,2", "BYHOUR=0,23", "BYSECOND=60",
        "WKST=SU", "COUNT=1", "UNTIL=20260101", "INTERVAL=1000", "INTERVAL=0001",
    ];

    private static readonly Gen<string> Rule = Gen.Select(
        Gen.Int[0, Frequencies.Length - 1],
        Gen.Int[0, Lists.Length - 1].Array[0, 5],
        (frequency, lists) => string.Join(';', lists
            .Select(list => Lists[list])
            .DistinctBy(list => list.Split('=')[0])
            .Prepend($"FREQ={Frequencies[frequency]}")));

    [Fact]
    public void Any_rule_of_right_parts_is_taken_or_never_comes_true() => Rule.Sample(
        rule =>
        {
            var fault = FaultOf($"UID:a\nDTSTART;TZID=J:20260131T070000\nDURATION:P1D\nRRULE:{rule}", "FREQ=YEARLY");

            Assert.True(fault is null or { Condition: "valid-calendar-data" }, $"{rule}: {fault}");
        },
        iter: 400);

    [Fact]
    public void Any_rule_in_a_description_of_a_zone_is_taken_or_refused() => Rule.Sample(
        rule => Assert.True(FaultOf("UID:a\nDTSTART;TZID=J:20260131T070000", rule) is null or { Status: 403 }, rule),
        iter: 400);

    [Fact]
    public void Any_damage_to_a_body_ends_in_a_body_or_a_fault() => Gen.Select(
        Gen.Int[0, 400], Gen.Int[0, 40], Gen.String[Gen.Char["\r\n :;=\",-09TZPBEGIN\\\u0000潮"], 0, 4]).Sample(
        (at, length, put) =>
        {
            var whole = Body("UID:a\nDTSTART;TZID=J:20260131T070000\nDURATION:PT1H\nRRULE:FREQ=DAILY", "FREQ=YEARLY");
            var place = Math.Min(at, whole.Length - length);
            var damaged = whole.Remove(place, length).Insert(place, put);

            var body = CalendarBody.TryRead(
                Encoding.UTF8.GetBytes(damaged), "text/calendar", ComponentKind.Event, out var fault);

            Assert.True(body is null == fault is { Status: 403 }, damaged);
        },
        iter: 5_000);

    private static BodyFault? FaultOf(string properties, string zoneRule)
    {
        CalendarBody.TryRead(
            Encoding.UTF8.GetBytes(Body(properties, zoneRule)), "text/calendar", ComponentKind.Event, out var fault);
        return fault;
    }

    private static string Body(string properties, string zoneRule) => Bodies.Event(properties, Bodies.Part(
        "VTIMEZONE",
        "TZID:J\nBEGIN:STANDARD\nDTSTART:19700329T020000\nTZOFFSETFROM:+0100\nTZOFFSETTO:+0200\n"
        + $"RRULE:{zoneRule}\nEND:STANDARD"));
}
