namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>
/// Alarms: start &lt;= trigger-time and end &gt; trigger-time for one of its triggers (RFC 4791 section 9.9). The times
/// are worked out by hand from RFC 5545 section 3.8.6. Ranges are a minute long unless said
/// otherwise.
/// </summary>
public class AlarmRangeTests
{
    private const string Issue = "DTSTART:20260305T080000Z|DTEND:20260305T100000Z";

    [Theory]
    [InlineData(Issue, "TRIGGER:-PT15M", "20260305T074500Z", true)]
    [InlineData(Issue, "TRIGGER:-PT15M", "20260305T074501Z", false)]
    [InlineData(Issue, "TRIGGER;RELATED=END:PT5M", "20260305T100500Z", true)]
    [InlineData(Issue, "TRIGGER;RELATED=END:PT5M", "20260305T080500Z", false)]
    [InlineData(Issue, "TRIGGER;VALUE=DATE-TIME:20250101T120000Z", "20250101T120000Z", true)]
    [InlineData(Issue, "TRIGGER:PT0S|REPEAT:2|DURATION:PT10M", "20260305T082000Z", true)]
    [InlineData(Issue, "TRIGGER:PT0S|REPEAT:2|DURATION:PT10M", "20260305T081500Z", false)]
    [InlineData(Issue, "TRIGGER:PT0S|REPEAT:2|DURATION:PT10M", "20260305T083000Z", false)]
    [InlineData(Issue, "TRIGGER:PT0S|REPEAT:2147483647|DURATION:P999999W", "20260305T083000Z", false)]
    [InlineData(Issue + "|RRULE:FREQ=WEEKLY", "TRIGGER:-P20D", "20260515T080000Z", true)]
    [InlineData(Issue + "|RRULE:FREQ=WEEKLY", "TRIGGER:-P20D", "20260515T080100Z", false, 1440)]
    [InlineData(Issue + "|RRULE:FREQ=WEEKLY;COUNT=2", "TRIGGER:-PT15M", "20260319T074500Z", false)]
    [InlineData(Issue, "ACTION:DISPLAY", "20260305T080000Z", false)]
    [InlineData("DTSTART;TZID=Europe/Brussels:20260329T090000", "TRIGGER:-P1D", "20260328T080000Z", true)]
    [InlineData("DTSTART;TZID=Europe/Brussels:20260329T090000", "TRIGGER:-PT24H", "20260328T070000Z", true)]
    public void An_alarm_of_an_event_goes_off(
        string issue, string alarm, string start, bool goesOff, int minutes = 1) =>
        Assert.Equal(goesOff, Asked("VEVENT", issue, alarm, start, minutes));

    [Theory]
    [InlineData("DUE:20260306T120000Z", "TRIGGER;RELATED=END:-PT1H", "20260306T110000Z", true)]
    [InlineData("DTSTART:20260306T080000Z|DURATION:PT4H", "TRIGGER;RELATED=END:-PT1H", "20260306T110000Z", true)]
    [InlineData("DTSTART:20260306T080000Z|DUE:20260306T120000Z", "TRIGGER:-PT1H", "20260306T070000Z", true)]
    [InlineData("DUE:20260306T120000Z", "TRIGGER:-PT1H", "20260306T110000Z", true)]
    [InlineData("SUMMARY:Order the paper", "TRIGGER:-PT1H", "20260306T110000Z", false)]
    public void An_alarm_of_a_to_do_goes_off(string todo, string alarm, string start, bool goesOff) =>
        Assert.Equal(goesOff, Asked("VTODO", todo, alarm, start, 1));

    private static bool Asked(string component, string properties, string alarm, string start, int minutes)
    {
        var from = NodaTime.Text.InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");
        var end = from.Format(from.Parse(start).Value + Duration.FromMinutes(minutes));
        var range = Query.Range(start, end);

        return Query.Of(
            $"<C:comp-filter name='{component}'><C:comp-filter name='VALARM'>{range}</C:comp-filter></C:comp-filter>")
            .Matches(Query.Component(component, $"{properties}|BEGIN:VALARM|{alarm}|END:VALARM"));
    }
}
