using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.Tests.CalDav.Protocol;

/// <summary>The rules of RFC 5545, 3.8.5.3 (Examples), each with the start given there; from memory.</summary>
public class RecurrenceTests
{
    [Theory]
    [InlineData("FREQ=DAILY;COUNT=10")]
    [InlineData("FREQ=DAILY;UNTIL=19971224T000000Z")]
    [InlineData("FREQ=DAILY;INTERVAL=10;COUNT=5")]
    [InlineData("FREQ=YEARLY;UNTIL=20000131T140000Z;BYMONTH=1;BYDAY=SU,MO,TU,WE,TH,FR,SA", "19980101T090000")]
    [InlineData("FREQ=WEEKLY;INTERVAL=2;UNTIL=19971224T000000Z;WKST=SU;BYDAY=MO,WE,FR", "19970901T090000")]
    [InlineData("FREQ=MONTHLY;COUNT=10;BYDAY=1FR", "19970905T090000")]
    [InlineData("FREQ=MONTHLY;INTERVAL=2;COUNT=10;BYDAY=1SU,-1SU", "19970907T090000")]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=-3", "19970928T090000")]
    [InlineData("FREQ=MONTHLY;INTERVAL=18;COUNT=10;BYMONTHDAY=10,11,12,13,14,15", "19970910T090000")]
    [InlineData("FREQ=YEARLY;INTERVAL=3;COUNT=10;BYYEARDAY=1,100,200", "19970101T090000")]
    [InlineData("FREQ=YEARLY;BYDAY=20MO", "19970519T090000")]
    [InlineData("FREQ=YEARLY;BYWEEKNO=20;BYDAY=MO", "19970512T090000")]
    [InlineData("FREQ=MONTHLY;BYDAY=FR;BYMONTHDAY=13")]
    [InlineData("FREQ=YEARLY;INTERVAL=4;BYMONTH=11;BYDAY=TU;BYMONTHDAY=2,3,4,5,6,7,8", "19961105T090000")]
    [InlineData("FREQ=MONTHLY;COUNT=3;BYDAY=TU,WE,TH;BYSETPOS=3", "19970904T090000")]
    [InlineData("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2", "19970929T090000")]
    [InlineData("FREQ=DAILY;BYHOUR=9,10,11,12,13,14,15,16;BYMINUTE=0,20,40")]
    [InlineData("FREQ=WEEKLY;INTERVAL=2;COUNT=4;BYDAY=TU,SU;WKST=MO", "19970805T090000")]
    public void An_example_of_the_standard_is_taken(string rule, string start = "19970902T090000")
    {
        var body = Bodies.Read(Bodies.Event($"UID:a\nDTSTART;TZID=America/New_York:{start}\nRRULE:{rule}"));

        Assert.Equal(rule, body.Main.Rrule);
    }

    [Theory]
    [InlineData("FREQ=HOURLY;INTERVAL=3;UNTIL=19970902T170000Z")]
    [InlineData("FREQ=MINUTELY;INTERVAL=15;COUNT=6")]
    [InlineData("FREQ=MINUTELY;INTERVAL=20;BYHOUR=9,10,11,12,13,14,15,16")]
    public void An_example_that_recurs_within_the_day_is_refused(string rule) => Assert.Equal(
        "403 max-instances",
        Bodies.Fault(Bodies.Event($"UID:a\nDTSTART;TZID=America/New_York:19970902T090000\nRRULE:{rule}")));

    [Theory]
    [InlineData("freq=weekly;byday=+1MO;")]
    [InlineData("FREQ=DAILY;BYMONTH=2;BYMONTHDAY=29;BYDAY=MO")]
    [InlineData("FREQ=WEEKLY;X-MAKER=a")]
    [InlineData("FREQ=YEARLY;RSCALE=GREGORIAN;SKIP=OMIT")]
    [InlineData("FREQ=WEEKLY;UNTIL=19970901")]
    public void An_oddity_in_use_is_taken(string rule) => Assert.Equal(
        rule, Bodies.Read(Bodies.Event($"UID:a\nDTSTART:19970902T090000Z\nRRULE:{rule}")).Main.Rrule);

    [Fact]
    public void The_dates_of_a_rule_are_those_that_the_standard_lists()
    {
        // RFC 5545, 3.8.5.3: the second to last weekday of the month; from memory.
        var rule = RecurrenceText.Read("FREQ=MONTHLY;BYDAY=MO,TU,WE,TH,FR;BYSETPOS=-2");

        var dates = RecurrenceDates.Of(rule.Dates, new(1997, 9, 29, 9, 0)).Take(7);

        Assert.Equal(
            ["0929", "1030", "1127", "1230", "0129", "0226", "0330"], dates.Select(date => $"{date:MMdd}"));
    }
}
