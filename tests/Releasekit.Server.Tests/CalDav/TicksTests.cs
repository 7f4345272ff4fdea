using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.CalDav.Ticking;

namespace Releasekit.Server.Tests.CalDav;

/// <summary>What clients write on tick and un-tick, by client (their sources; calendar.md 7.1).</summary>
public class TicksTests
{
    private const string Served = "STATUS:NEEDS-ACTION";
    private const string Done = "STATUS:COMPLETED|COMPLETED:20260302T183000Z|PERCENT-COMPLETE:100";

    [Theory]
    [InlineData(Served, Done, "Complete")]
    [InlineData(Served, "STATUS:COMPLETED", "Complete")]
    [InlineData(Served, "PERCENT-COMPLETE:100", "Complete")]
    [InlineData(Served, "STATUS:COMPLETED|COMPLETED;VALUE=DATE-TIME:20260302T183000Z", "Complete")]
    [InlineData(Served, "STATUS:NEEDS-ACTION|COMPLETED:20260302T183000Z", "Complete")]
    [InlineData(Served, "STATUS:IN-PROCESS|PERCENT-COMPLETE:50", "Start")]
    [InlineData(Served, "STATUS:CANCELLED", "Skip")]
    [InlineData(Served, Served, "None")]
    [InlineData(Served, "", "None")]
    [InlineData(Done, "", "Reopen")]
    [InlineData(Done, "STATUS:NEEDS-ACTION", "Reopen")]
    [InlineData(Done, "STATUS:NEEDS-ACTION|COMPLETED:20260302T183000Z|PERCENT-COMPLETE:100", "Reopen")]
    [InlineData(Done, "STATUS:IN-PROCESS|PERCENT-COMPLETE:50", "Reopen")]
    [InlineData(Done, "STATUS:COMPLETED", "None")]
    [InlineData(Done, "COMPLETED:20260302T183000Z", "None")]
    [InlineData(Done, Done, "None")]
    [InlineData("STATUS:CANCELLED", "STATUS:NEEDS-ACTION", "Reopen")]
    public void A_written_to_do_means_what_its_client_meant(string served, string written, string deed) =>
        Assert.Equal(Enum.Parse<TickDeed>(deed), Ticks.Decide(Signs(served), Signs(written)));

    [Fact]
    public void It_was_done_when_the_client_says_unless_that_is_still_to_come()
    {
        var now = Instant.FromUtc(2026, 3, 2, 18, 0);

        Assert.Equal(now, Ticks.At(Signs("STATUS:COMPLETED|COMPLETED:20260302T183000Z"), now));
        Assert.Equal(
            now - Duration.FromHours(1), Ticks.At(Signs("STATUS:COMPLETED|COMPLETED:20260302T170000Z"), now));
        Assert.Equal(now, Ticks.At(Signs("STATUS:COMPLETED|COMPLETED:tomorrow"), now));
    }

    private static TodoSigns Signs(string lines) => TodoSigns.Read(CalendarText.TryRead(
        $"BEGIN:VCALENDAR\nBEGIN:VTODO\nUID:1\n{lines.Replace('|', '\n')}\nEND:VTODO\nEND:VCALENDAR\n", out _)!.Main!);
}
