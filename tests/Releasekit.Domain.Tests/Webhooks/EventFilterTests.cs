using Releasekit.Domain.Webhooks;

namespace Releasekit.Domain.Tests.Webhooks;

/// <summary>Which event types an endpoint wants. Types are hierarchical, parted by full stops (Standard Webhooks
/// 1.0.0, "Event types"); groups are our own.</summary>
public class EventFilterTests
{
    private static readonly string[] Known =
        ["release.planned", "release.published", "stage.completed", "stage.due_soon", "endpoint.test"];

    [Theory]
    [InlineData("stage.completed", "stage.completed")]
    [InlineData("release.*", "release.planned release.published")]
    [InlineData("stage.due_soon release.planned release.planned", "release.planned stage.due_soon")]
    [InlineData("*", "release.planned release.published stage.completed stage.due_soon endpoint.test")]
    public void An_endpoint_gets_what_it_asked_for_and_nothing_else(string asked, string expected)
    {
        var filter = EventFilter.TryParse(asked.Split(' '), Known, out var refusal);

        Assert.Null(refusal);
        Assert.Equal(expected.Split(' '), Known.Where(filter!.Wants));
    }

    [Fact]
    public void A_group_and_everything_take_types_that_are_still_to_come_and_a_type_does_not()
    {
        Assert.True(EventFilter.TryParse(["release.*"], Known, out _)!.Wants("release.recalled"));
        Assert.True(EventFilter.TryParse(["*"], Known, out _)!.Wants("tide.turned"));
        Assert.False(EventFilter.TryParse(["release.*"], Known, out _)!.Wants("released.planned"));
        Assert.False(EventFilter.TryParse(["release.planned"], Known, out _)!.Wants("release.planned.again"));
    }

    [Theory]
    [InlineData("stage.complete")]
    [InlineData("Stage.completed")]
    [InlineData("tide.*")]
    [InlineData("stage*")]
    [InlineData("*.completed")]
    [InlineData(".*")]
    [InlineData("stage.completed.*")]
    [InlineData("")]
    [InlineData(null)]
    public void What_is_not_known_is_refused_at_its_place_with_what_would_be_right(string? asked)
    {
        var filter = EventFilter.TryParse(["release.*", asked!], Known, out var refusal);

        Assert.Null(filter);
        var fault = Assert.Single(refusal!.Faults);
        Assert.Equal("/types/1", fault.Member);
        Assert.Contains("stage.completed", fault.Reason, StringComparison.Ordinal);
        Assert.Contains("release.*, stage.*, endpoint.*, and * for all", fault.Reason, StringComparison.Ordinal);
        Assert.Equal(RefusalKind.NotAcceptable, refusal.Kind);
    }

    [Theory]
    [InlineData(0)]
    [InlineData(101)]
    public void An_endpoint_names_some_types_and_not_too_many(int count)
    {
        Assert.Null(EventFilter.TryParse([.. Enumerable.Repeat("stage.completed", count)], Known, out var refusal));
        Assert.Equal("/types", Assert.Single(refusal!.Faults).Member);
    }
}
