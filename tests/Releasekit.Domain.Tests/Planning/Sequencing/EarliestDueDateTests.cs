using CsCheck;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Tests.Planning.Sequencing;

public sealed class EarliestDueDateTests
{
    /// <summary>Kleinberg and Tardos, Algorithm Design, and course notes that vary its dues.</summary>
    [Theory]
    [InlineData("j.edd.kt6")]
    [InlineData("j.edd.six")]
    public void By_due_the_worst_lateness_is_the_least_of_all_orders(string id)
    {
        var check = PieceCases.Find(id);
        var pieces = check.Pieces();

        var sequence = EarliestDueDate.Order(pieces);

        Assert.Equal(check.Expected.Longs("order"), PieceCases.Keys(sequence.Order));
        Assert.Equal(check.Expected.Long("Lmax"), sequence.MaxLateness);
        Assert.Equal(sequence.MaxLateness, PieceCases.AllOrders(pieces).Min(order => order.MaxLateness));
        if (check.Expected.TryGetProperty("C", out _))
        {
            Assert.Equal(check.Expected.Longs("C"), sequence.Finishes);
        }

        if (check.Expected.TryGetProperty("Lmax_of_order_3_2_5_4_1_6", out var other))
        {
            Assert.Equal(other.GetInt64(), pieces.InOrder(3, 2, 5, 4, 1, 6).MaxLateness);
        }
    }

    [Theory]
    [InlineData("j.edge.n0")]
    [InlineData("j.edge.n1")]
    [InlineData("j.edge.ties")]
    public void At_the_edges_the_definitions_hold(string id)
    {
        var check = PieceCases.Find(id);

        var sequence = EarliestDueDate.Order(check.Pieces());

        Assert.Equal(check.Expected.Longs("edd"), PieceCases.Keys(sequence.Order));
        check.AssertNear(check.Expected.GetProperty("Lmax"), sequence.MaxLateness);
        Assert.Equal(check.Expected.Long("n_late"), sequence.LateCount);
        Assert.Equal(check.Expected.Long("n_late"), FewestLate.Of(check.Pieces()).Late.Count);
    }

    /// <summary>Lawler 1973.</summary>
    [Fact]
    public void Modified_dues_are_those_of_the_textbook_device()
    {
        var check = PieceCases.Find("j.precedence.modified_due_dates");
        var pieces = check.Pieces();

        var sequence = EarliestDueDate.TryOrder(pieces, out var fault)!;
        var dues = EarliestDueDate.TryModify(pieces, out _)!;

        Assert.Null(fault);
        Assert.Equal(check.Expected.Longs("modified"), pieces.Select(piece => dues[piece.Key]));
        Assert.Equal(check.Expected.Longs("order"), PieceCases.Keys(sequence.Order));
        Assert.Equal(check.Expected.Long("Lmax"), sequence.MaxLateness);
    }

    [Fact]
    public void With_predecessors_no_possible_order_has_a_smaller_worst_lateness() =>
        PieceCases.Few.Select(pieces => pieces.AllReady()).Sample(pieces =>
        {
            var sequence = EarliestDueDate.TryOrder(pieces, out _)!;

            Assert.Contains(PieceCases.AllOrders(pieces), order => order.Order.SequenceEqual(sequence.Order));
            Assert.Equal(PieceCases.AllOrders(pieces).Min(order => order.MaxLateness), sequence.MaxLateness);
        }, iter: 200);

    [Fact]
    public void A_circle_has_no_order()
    {
        Piece[] circle = [new("a", 1, 1) { After = ["b"] }, new("b", 1, 1) { After = ["a"] }];

        Assert.Null(EarliestDueDate.TryOrder(circle, out var fault));
        Assert.Contains("in a circle", fault!, StringComparison.Ordinal);
        Assert.Null(EarliestDueDate.TryModify(circle, out _));
        Assert.Null(SplitSchedule.TryLay(circle, out _));
    }
}
