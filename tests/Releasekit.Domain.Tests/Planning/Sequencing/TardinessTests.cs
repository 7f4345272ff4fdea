using CsCheck;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Tests.Planning.Sequencing;

public sealed class TardinessTests
{
    /// <summary>Pinedo, Scheduling, Example 3.4.5: by due is not best.</summary>
    [Fact]
    public void The_total_tardiness_is_that_of_the_text_book()
    {
        var check = PieceCases.Find("j.sumT.pinedo");
        var pieces = check.Pieces();
        var least = check.Expected.Long("total_tardiness");

        Assert.Equal(least, TardinessOptimum.Order(pieces).TotalTardiness);
        Assert.Equal(least, TardinessSearch.Order(pieces, seed: 1).TotalTardiness);
        Assert.Equal(check.Expected.Long("edd"), EarliestDueDate.Order(pieces).TotalTardiness);
        Assert.Equal(
            check.Expected.Long("optimal_orders"),
            PieceCases.AllOrders(pieces).Count(order => order.TotalTardiness == least));
    }

    /// <summary>Cut from OR-Library numbers.</summary>
    [Fact]
    public void Ten_and_eight_pieces_have_their_exact_least()
    {
        var check = PieceCases.Find("j.wt.small10");
        var pieces = check.Pieces();

        Assert.Equal(check.Expected.Long("optimum"), TardinessOptimum.Order(pieces).WeightedTardiness);
        Assert.Equal(check.Expected.Long("optimum"), TardinessSearch.Order(pieces, seed: 1).WeightedTardiness);
        Assert.Equal(check.Expected.Long("optimum_first8"), TardinessOptimum.Order(pieces[..8]).WeightedTardiness);
    }

    /// <summary>Cut from OR-Library numbers; 2^20 subsets.</summary>
    [Fact]
    public void Twenty_pieces_have_their_exact_least()
    {
        var check = PieceCases.Find("j.wt.small20");

        Assert.Equal(check.Expected.Long("optimum"), TardinessOptimum.Order(check.Pieces()).WeightedTardiness);
        Assert.Equal(check.Expected.Long("optimum"), TardinessSearch.Order(check.Pieces(), seed: 1).WeightedTardiness);
    }

    /// <summary>OR-Library wt40, optima of its wtopt40.</summary>
    [Theory]
    [InlineData("j.wt40.1")]
    [InlineData("j.wt40.6")]
    [InlineData("j.wt40.11")]
    public void The_search_reaches_the_listed_optimum_of_forty_pieces(string id)
    {
        var check = PieceCases.Find(id);
        var pieces = check.Pieces();

        Assert.Equal(check.Expected.Long("optimum"), TardinessSearch.Order(pieces, seed: 1).WeightedTardiness);
        Assert.Equal(check.Expected.Long("edd"), EarliestDueDate.Order(pieces).WeightedTardiness);
        Assert.Equal(check.Expected.Long("wspt"), new Sequence(
            [.. pieces.OrderBy(piece => (double)piece.Length / piece.Weight)]).WeightedTardiness);
    }

    [Fact]
    public void The_same_seed_gives_the_same_order()
    {
        var pieces = PieceCases.Find("j.wt40.6").Pieces();

        Assert.Equal(Found(), Found());

        IReadOnlyList<Piece> Found() => TardinessSearch.Order(pieces, seed: 7, rounds: 20).Order;
    }

    [Fact]
    public void The_subsets_find_the_least_of_all_orders_and_the_search_nothing_below() =>
        PieceCases.Few.Select(pieces => pieces.Loose()).Sample(pieces =>
        {
            var exact = TardinessOptimum.Order(pieces);
            var found = TardinessSearch.Order(pieces, seed: 3, rounds: 20);

            Assert.Equal(PieceCases.AllOrders(pieces).Min(order => order.WeightedTardiness), exact.WeightedTardiness);
            Assert.True(exact.WeightedTardiness <= found.WeightedTardiness);
            Assert.Equal(pieces, found.Order.OrderBy(piece => piece.Key, StringComparer.Ordinal));
        }, iter: 200);

    [Fact]
    public void Too_many_pieces_for_the_subsets_are_a_mistake_of_the_caller() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => TardinessOptimum.Order(PieceCases.Find("j.wt40.1").Pieces()));
}
