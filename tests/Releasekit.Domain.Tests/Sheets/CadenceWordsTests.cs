using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;

namespace Releasekit.Domain.Tests.Sheets;

/// <summary>Rules of RFC 5545 in words; the rules are those of its section 3.8.5.3 and what publishers use.</summary>
public class CadenceWordsTests
{
    [Theory]
    [InlineData("FREQ=WEEKLY;BYDAY=TH", "Thursdays 07:00")]
    [InlineData("FREQ=WEEKLY", "Thursdays 07:00")]
    [InlineData("FREQ=WEEKLY;BYDAY=TU,TH", "Tuesdays and Thursdays 07:00")]
    [InlineData("FREQ=WEEKLY;INTERVAL=2;WKST=SU;BYDAY=MO,WE", "every other week, Mondays and Wednesdays 07:00")]
    [InlineData("FREQ=WEEKLY;INTERVAL=3;BYDAY=SU", "every 3 weeks, Sundays 07:00")]
    [InlineData("FREQ=DAILY;COUNT=10", "daily 07:00")]
    [InlineData("FREQ=DAILY;INTERVAL=10;COUNT=5", "every 10 days 07:00")]
    [InlineData("FREQ=MONTHLY;COUNT=10;BYDAY=1FR", "monthly on the first Friday 07:00")]
    [InlineData("FREQ=MONTHLY;COUNT=6;BYDAY=-2MO", "FREQ=MONTHLY;COUNT=6;BYDAY=-2MO 07:00")]
    [InlineData("FREQ=MONTHLY;BYMONTHDAY=2,15", "monthly on the 2, 15. 07:00")]
    [InlineData("FREQ=YEARLY;BYMONTH=6,7", "FREQ=YEARLY;BYMONTH=6,7 07:00")]
    public void A_rule_is_said_as_a_person_says_it(string rule, string expected) => Assert.Equal(
        expected, CadenceWords.Of(new CadenceTerms(rule, new(2026, 1, 1), new(7, 0), "Europe/Lisbon")));
}
