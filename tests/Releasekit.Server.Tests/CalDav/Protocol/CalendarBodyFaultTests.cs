using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>The conditions are those of RFC 4791, 5.3.2.1; the bounds are our own.</summary>
public class CalendarBodyFaultTests
{
    private const string Media = "403 supported-calendar-data";
    private const string Data = "403 valid-calendar-data";
    private const string Resource = "403 valid-calendar-object-resource";
    private const string Kind = "403 supported-calendar-component";
    private const string Size = "403 max-resource-size";
    private const string Instances = "403 max-instances";

    [Theory]
    [InlineData("application/json")]
    [InlineData("text/calendar+xml")]
    [InlineData("text/calendar; charset=iso-8859-1")]
    public void Another_media_type_or_charset_is_refused(string contentType) =>
        Assert.Equal(Media, Bodies.Fault(Bodies.Event(Bodies.Slot), contentType: contentType));

    [Fact]
    public void Another_version_is_refused() => Assert.Equal(Media, Bodies.Fault(
        Bodies.Event(Bodies.Slot).Replace("VERSION:2.0", "VERSION:1.0", StringComparison.Ordinal)));

    [Fact]
    public void Bytes_that_are_no_text_are_refused()
    {
        var body = CalendarBody.TryRead([0x42, 0xFF, 0xFE], "text/calendar", ComponentKind.Event, out var fault);

        Assert.Null(body);
        Assert.Equal("valid-calendar-data", fault!.Condition);
    }

    [Theory]
    [InlineData("UID:a")]
    [InlineData("UID:a\nDTSTART:2026-03-05T07:00:00Z")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nDTSTART:20260306T070000Z")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nDURATION:PT")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nDURATION:1H")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nEXDATE:soon")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nno line")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=DAILY;BYMONTH=13")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=DAILY;FREQ=DAILY")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=MONTHLY;BYDAY=54MO")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=MONTHLY;BYMONTHDAY=31;BYMONTH=4")]
    [InlineData("UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=DAILY\nRRULE:FREQ=WEEKLY")]
    public void What_is_no_event_by_its_syntax_or_values_is_refused(string properties) =>
        Assert.Equal(Data, Bodies.Fault(Bodies.Event(properties)));

    [Theory]
    [InlineData("UID:a\nDTSTART:19691231T235959Z", "403 min-date-time")]
    [InlineData("UID:a\nDTSTART:22000101", "403 max-date-time")]
    [InlineData("UID:a\nDTSTART:21991231T230000Z\nDURATION:P2D", "403 max-date-time")]
    [InlineData("UID:a\nDTSTART:20260305\nRRULE:FREQ=DAILY;UNTIL=22000101", "403 max-date-time")]
    [InlineData("UID:a\nDTSTART:20260305\nRRULE:FREQ=HOURLY;COUNT=2", Instances)]
    [InlineData("UID:a\nDTSTART:20260305\nRRULE:FREQ=DAILY;COUNT=1001", Instances)]
    [InlineData("UID:a\nDTSTART:20260305\nRRULE:FREQ=DAILY;INTERVAL=1001", Instances)]
    public void What_is_out_of_range_is_told_by_the_bound(string properties, string expected) =>
        Assert.Equal(expected, Bodies.Fault(Bodies.Event(properties)));

    [Fact]
    public void What_is_too_much_is_told_by_the_bound()
    {
        var dates = string.Join(',', Enumerable.Repeat("20260305", 2_001));
        var lines = string.Join('\n', Enumerable.Repeat("EXDATE:20260305", 501));
        var months = string.Join(',', Enumerable.Repeat("1", 61));
        var alarms = string.Join('\n', Enumerable.Repeat("BEGIN:VALARM\nEND:VALARM", 5_000));
        var clocks = "TZOFFSETFROM:+0100\nTZOFFSETTO:+0200\nDTSTART:16010325T020000\nRRULE:FREQ=YEARLY";
        var zone = Bodies.Part("VTIMEZONE", "TZID:Jetty\n" + string.Join(
            '\n', Enumerable.Repeat(Bodies.Part("DAYLIGHT", clocks), 101)));

        Assert.Equal(Instances, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\nRDATE;VALUE=DATE:{dates}")));
        Assert.Equal(Instances, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\n{lines}")));
        Assert.Equal(Instances, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\nRRULE:FREQ=DAILY;BYMONTH={months}")));
        Assert.Equal(Instances, Bodies.Fault(Series(overrides: 501)));
        Assert.Equal(Instances, Bodies.Fault(Bodies.Event("UID:a\nDTSTART;TZID=Jetty:20260305T070000", zone)));
        Assert.Equal(Size, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\n{alarms}")));
        Assert.Equal(Size, Bodies.Fault(Bodies.Event(Bodies.Slot) + new string('\n', 50_001)));
        Assert.Equal(Size, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\nX-A:{new string('a', 1_048_576)}")));
        Assert.Equal(500, Bodies.Read(Series(overrides: 500)).Overrides.Count);
    }

    [Fact]
    public void What_is_not_one_object_of_one_kind_with_one_UID_is_refused()
    {
        var slot = Bodies.Part("VEVENT", Bodies.Slot);
        var stage = Bodies.Part("VTODO", Bodies.Stage);

        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar("METHOD:REQUEST", slot)));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar(slot, stage)));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar()));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar(Bodies.Part("X-TIDE", "X-A:b"))));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar(slot) + Bodies.Calendar(slot)));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar(slot, slot)));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Event("DTSTART:20260305T070000Z")));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Event($"{Bodies.Slot}\nUID:slot-13")));
        Assert.Equal(Resource, Bodies.Fault(Bodies.Calendar(
            slot, Bodies.Part("VEVENT", "UID:slot-13\nRECURRENCE-ID:20260305T070000Z\nDTSTART:20260305T070000Z"))));
    }

    [Fact]
    public void Another_kind_than_that_of_the_collection_is_refused()
    {
        Assert.Equal(Kind, Bodies.Fault(Bodies.Todo(Bodies.Stage)));
        Assert.Equal(Kind, Bodies.Fault(Bodies.Event(Bodies.Slot), ComponentKind.Todo));
        Assert.Equal(Kind, Bodies.Fault(Bodies.Calendar(Bodies.Part("VJOURNAL", "UID:a"))));
    }

    private static string Series(int overrides) => Bodies.Calendar(
        [
            Bodies.Part("VEVENT", "UID:a\nDTSTART:20260101\nRRULE:FREQ=DAILY"),
            .. Enumerable.Range(0, overrides).Select(day =>
            {
                var date = $"{new LocalDate(2026, 1, 1).PlusDays(day):uuuuMMdd}";
                return Bodies.Part("VEVENT", $"UID:a\nRECURRENCE-ID:{date}\nDTSTART:{date}");
            }),
        ]);
}
