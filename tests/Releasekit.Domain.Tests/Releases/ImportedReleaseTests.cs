using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

/// <summary>What a row of a history becomes.</summary>
public sealed class ImportedReleaseTests
{
    [Fact]
    public void A_history_may_complete_a_stage_over_a_strict_predecessor_that_it_does_not_know()
    {
        var row = new ImportedRelease(null, "No. 12", null, [new("final-mix", null, At(3))]);

        var events = row.Decide(Id, "mudflat-weekly", Plan, Now);
        var asked = StageDecider.Record(After(Planned), "final-mix", StageState.Completed, null, null, At(3), Now);

        Assert.Equal(
            [
                Planned with { OccurredAt = At(3), RecordedAt = Now },
                Completed("final-mix", 3, outOfOrder: true) with { RecordedAt = Now },
            ],
            events);
        Assert.Equal("stage.predecessor_open", asked.Refusal?.Code);
    }
}
