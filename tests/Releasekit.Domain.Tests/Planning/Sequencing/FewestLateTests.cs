using CsCheck;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Tests.Planning.Sequencing;

public sealed class FewestLateTests
{
    /// <summary>Pinedo, Scheduling, Example 3.3.3.</summary>
    [Fact]
    public void The_late_ones_are_those_of_the_text_book()
    {
        var check = PieceCases.Find("j.moore.pinedo");

        var division = FewestLate.Of(check.Pieces());

        Assert.Equal(check.Expected.Longs("on_time"), PieceCases.Keys(division.OnTime));
        Assert.Equal(check.Expected.Longs("late"), PieceCases.Keys(division.Late));
    }

    /// <summary>The example of a public library's documentation.</summary>
    [Fact]
    public void As_many_are_on_time_as_the_library_says()
    {
        var check = PieceCases.Find("j.moore.five");

        var division = FewestLate.Of(check.Pieces());

        Assert.Equal(check.Expected.Long("n_on_time"), division.OnTime.Count);
        Assert.Equal(check.Expected.Long("n_late"), division.Late.Count);
    }

    [Fact]
    public void No_order_has_fewer_late() =>
        PieceCases.Few.Select(pieces => pieces.Loose()).Sample(pieces =>
        {
            var division = FewestLate.Of(pieces);

            Assert.Equal(0, new Sequence(division.OnTime).LateCount);
            Assert.Equal(pieces.Length, division.OnTime.Count + division.Late.Count);
            Assert.Equal(PieceCases.AllOrders(pieces).Min(order => order.LateCount), division.Late.Count);
        }, iter: 200);
}
