using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics.Flow;
using static Releasekit.Domain.Tests.Planning.Episodes;

namespace Releasekit.Domain.Tests.Releases;

public sealed class ReleaseTraceTests
{
    [Fact]
    public void All_that_is_counted_is_told_by_the_trace()
    {
        var release = Planned(Plan, Started("outline"), Done("outline"), Started("cut")) with
        {
            Slot = new LocalDate(2024, 5, 16),
        };
        var now = Monday9 + Duration.FromDays(30);

        var read = ReleaseTrace.Read(release.Id, release.Series, release.Trace);

        Assert.Equivalent(FactReading.Of(release, now), FactReading.Of(read, now), strict: true);
        Assert.Equal(release.State, read.State);
        Assert.Equal(release.OpenStages, read.OpenStages);
        Assert.Equal(release.Trace, read.Trace);
    }

    [Fact]
    public void Dropped_and_without_a_slot_it_says_so()
    {
        var release = Planned(Plan) with { DroppedAt = Monday9, DroppedFor = "flu", Slot = null };

        var read = ReleaseTrace.Read(release.Id, release.Series, release.Trace);

        Assert.Equal((Monday9, null), (read.DroppedAt, read.Slot));
        Assert.Equal(ReleaseState.Dropped, read.State);
    }
}
