namespace Releasekit.Server.Tests.CalDav.Protocol.Filters;

/// <summary>What a store is told before items are matched one by one.</summary>
public class TimeRangeHintTests
{
    private static readonly Instant March = Instant.FromUtc(2026, 3, 1, 0, 0);
    private static readonly Instant April = Instant.FromUtc(2026, 4, 1, 0, 0);

    [Fact]
    public void The_outermost_component_and_its_range_are_told()
    {
        Assert.Equal(
            new("VTODO", March, April), Query.InRange("VTODO", "20260301T000000Z", "20260401T000000Z").Hint());
        Assert.Equal(new("VEVENT", March, null), Query.InRange("vevent", "20260301T000000Z", null).Hint());
        Assert.Equal(new("VEVENT", null, April), Query.InRange("VEVENT", null, "20260401T000000Z").Hint());
    }

    [Theory]
    [InlineData("<C:comp-filter name='VTODO'/>", "VTODO")]
    [InlineData("<C:comp-filter name='VTODO'><C:is-not-defined/></C:comp-filter>", null)]
    [InlineData("<C:comp-filter name='VJOURNAL'><C:time-range start='20260301T000000Z'/></C:comp-filter>", null)]
    [InlineData("", null)]
    [InlineData("<C:comp-filter name='VTODO'><C:comp-filter name='VALARM'><C:time-range start='20260301T000000Z'/>"
        + "</C:comp-filter></C:comp-filter>", "VTODO")]
    [InlineData("<C:comp-filter name='VTODO'><C:prop-filter name='DUE'><C:time-range start='20260301T000000Z'/>"
        + "</C:prop-filter></C:comp-filter>", "VTODO")]
    public void Where_no_range_is_asked_of_it_none_is_told(string asked, string? component) =>
        Assert.Equal(new(component, null, null), Query.Of(asked).Hint());
}
