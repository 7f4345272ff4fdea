using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

public sealed class StagePlanRulesTests
{
    private static readonly PlannedStage Publish = Stage("publish", publication: true);

    [Fact]
    public void A_plan_that_can_be_worked_is_accepted() => Assert.Null(StagePlanRules.Check(Plan));

    [Fact]
    public void A_circle_is_named_stage_by_stage() => Assert.Contains(
        "a → b → c → a",
        Assert.Single(FaultsOf([Stage("a", "c"), Stage("b", "a"), Stage("c", "b"), Publish])).Reason,
        StringComparison.Ordinal);

    [Fact]
    public void A_stage_after_itself_is_a_circle() =>
        Assert.Contains("a → a", Assert.Single(FaultsOf([Stage("a", "a"), Publish])).Reason, StringComparison.Ordinal);

    [Fact]
    public void A_circle_beside_stages_that_can_be_worked_is_found() => Assert.Contains(
        "follow each other in a circle",
        Assert.Single(FaultsOf([Publish, Stage("announce", "publish"), Stage("x", "y"), Stage("y", "x")])).Reason,
        StringComparison.Ordinal);

    [Fact]
    public void Predecessors_are_stages_of_the_plan() =>
        Assert.Equal("/stages/0/after", Assert.Single(FaultsOf([Stage("a", "z"), Publish])).Member);

    [Fact]
    public void Exactly_one_stage_is_the_publication()
    {
        Assert.Equal("/stages", Assert.Single(FaultsOf([Stage("a")])).Member);
        Assert.Contains(
            "publish, again",
            Assert.Single(FaultsOf([Publish, Stage("again", publication: true)])).Reason,
            StringComparison.Ordinal);
    }

    [Fact]
    public void Effort_and_within_are_not_negative() => Assert.Equal(
        ["/stages/1/effort", "/stages/1/within"],
        FaultsOf([Publish, Stage("a", within: -Duration.Epsilon) with { Effort = -Duration.Epsilon }])
            .Select(fault => fault.Member));

    [Fact]
    public void Strict_names_predecessors_only() => Assert.Equal(
        "/stages/1/strict", Assert.Single(FaultsOf([Publish, Stage("a") with { Strict = ["publish"] }])).Member);

    [Fact]
    public void A_key_stands_once() =>
        Assert.Equal("/stages/2/key", Assert.Single(FaultsOf([Publish, Stage("a"), Stage("a")])).Member);

    [Fact]
    public void Keys_and_names_are_well_formed() => Assert.Equal(
        ["/id", "/name", "/stages/0/key", "/stages/0/name"],
        StagePlanRules.Check(new StagePlan("A b", "", 1, [Publish with { Key = "Pub!", Name = " " }]))!
            .Faults.Select(fault => fault.Member));

    [Fact]
    public void An_item_stands_once_on_a_checklist_however_it_is_spelled() => Assert.Equal(
        "/stages/0/checklist",
        Assert.Single(FaultsOf([Publish with { Checklist = ChecklistItem.ListOf(["Links", "links"]) }])).Member);

    [Fact]
    public void A_plan_has_one_to_sixty_stages()
    {
        Assert.Contains(FaultsOf([]), fault => fault.Member == "/stages");
        Assert.Empty(FaultsOf([Publish, .. Stages(StagePlanRules.MostStages - 1)]));
        Assert.Single(FaultsOf([Publish, .. Stages(StagePlanRules.MostStages)]));
    }

    [Fact]
    public void Follow_ups_come_after_the_publication_directly_or_through_others()
    {
        Assert.Equal(["announce", "reader-letter"], StagePlanRules.FollowUps(Plan.Stages).Order());
        Assert.Equal(["announce", "reader-letter"], StagePlanRules.FollowUps([.. Plan.Stages.Reverse()]).Order());
        Assert.Empty(StagePlanRules.FollowUps([Publish, Stage("archive")]));
    }

    private static IEnumerable<PlannedStage> Stages(int count) =>
        Enumerable.Range(1, count).Select(i => Stage($"stage-{i}"));

    private static IReadOnlyList<Fault> FaultsOf(IReadOnlyList<PlannedStage> stages)
    {
        var refusal = StagePlanRules.Check(Plan with { Stages = stages });
        Assert.True(refusal is null or { Code: "stage_plan.invalid", Kind: RefusalKind.NotAcceptable });
        return refusal?.Faults ?? [];
    }
}
