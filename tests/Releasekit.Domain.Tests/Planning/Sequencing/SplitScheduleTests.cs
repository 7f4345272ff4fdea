using CsCheck;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Tests.Planning.Sequencing;

public sealed class SplitScheduleTests
{
    /// <summary>Pinedo, Scheduling, Example 3.2.5.</summary>
    [Fact]
    public void The_segments_are_those_of_the_text_book()
    {
        var check = PieceCases.Find("j.release.pinedo");
        var pieces = check.Pieces();
        var expected = check.Expected.GetProperty("preemptive");

        var schedule = SplitSchedule.TryLay(pieces, out _)!;

        Assert.Equal(
            expected.GetProperty("segments").EnumerateArray()
                .Select(row => new WorkSegment(row[0].ToString(), row[1].GetInt64(), row[2].GetInt64())),
            schedule.Segments);
        Assert.Equal(expected.Long("Lmax"), MaxLateness(pieces, schedule));

        var unbroken = check.Expected.Long("Lmax_nonpreemptive");
        Assert.Equal(unbroken, pieces.InOrder(check.Expected.Longs("best_order")).MaxLateness);
        Assert.Equal(unbroken, PieceCases.AllOrders(pieces).Min(order => order.MaxLateness));
    }

    /// <summary>
    /// Guéret, Prins and Sevaux, Applications of Optimization with Xpress-MP, section 7.4; all 5,040 orders.
    /// </summary>
    [Fact]
    public void The_seven_pieces_of_the_text_book_have_its_best_figures()
    {
        var check = PieceCases.Find("j.release.xpress74");
        var pieces = check.Pieces();
        var orders = PieceCases.AllOrders(pieces).ToArray();

        Assert.Equal(5040, orders.Length);
        Assert.Equal(check.Expected.Long("makespan"), orders.Min(order => order.Finishes[^1]));
        Assert.Equal(check.Expected.Long("sum_completion"), orders.Min(order => order.Finishes.Sum()));
        Assert.Equal(check.Expected.Long("total_tardiness"), orders.Min(order => order.TotalTardiness));
        Assert.Equal(check.Expected.Long("Lmax"), orders.Min(order => order.MaxLateness));
        Assert.Equal(check.Expected.Long("n_late"), orders.Min(order => order.LateCount));
        Assert.Equal(
            check.Expected.Long("preemptive_edd_Lmax"), MaxLateness(pieces, SplitSchedule.TryLay(pieces, out _)!));
    }

    [Fact]
    public void Each_piece_is_done_whole_after_it_is_ready_and_after_what_it_follows() =>
        PieceCases.Few.Sample(pieces =>
        {
            var segments = SplitSchedule.TryLay(pieces, out _)!.Segments;
            var finishes = SplitSchedule.TryLay(pieces, out _)!.Finishes();

            Assert.All(segments.Zip(segments.Skip(1)), pair => Assert.True(pair.First.To <= pair.Second.From));
            foreach (var piece in pieces)
            {
                var own = segments.Where(segment => segment.Key == piece.Key).ToArray();
                Assert.Equal(piece.Length, own.Sum(segment => segment.To - segment.From));
                Assert.True(piece.ReadyAt <= own[0].From);
                Assert.All(piece.After, before => Assert.True(finishes[before] <= own[0].From));
            }
        }, iter: 1000);

    [Fact]
    public void No_unbroken_order_has_a_smaller_worst_lateness() => PieceCases.Few.Sample(pieces =>
        Assert.True(pieces.Length == 0 || MaxLateness(pieces, SplitSchedule.TryLay(pieces, out _)!)
            <= PieceCases.AllOrders(pieces).Min(order => order.MaxLateness)), iter: 200);

    [Fact]
    public void Cut_into_units_no_order_at_all_has_a_smaller_worst_lateness() =>
        PieceCases.Few
            .Select(pieces => pieces.Take(5).Select(piece => piece with { Length = 1 + piece.Length % 3 }).ToArray())
            .Where(pieces => pieces.Length > 0).Sample(pieces =>
        {
            // The least lateness by exhaustion over which piece gets each unit of time.
            var least = Least(pieces, [.. pieces.Select(piece => piece.Length)], 0, []);
            Assert.Equal(least, MaxLateness(pieces, SplitSchedule.TryLay(pieces, out _)!));
        }, iter: 200);

    private static long Least(Piece[] pieces, long[] left, long now, Dictionary<string, long> known)
    {
        var state = $"{now}:{string.Join(',', left)}";
        if (known.TryGetValue(state, out var least))
        {
            return least;
        }

        least = long.MaxValue;
        var open = Enumerable.Range(0, pieces.Length).Where(i => left[i] > 0).ToArray();
        var can = open.Where(i => pieces[i].ReadyAt <= now && !Open(pieces[i])).ToArray();
        foreach (var i in can.DefaultIfEmpty(-1))
        {
            if (i < 0 && open.Length == 0)
            {
                return long.MinValue;
            }

            var next = (long[])left.Clone();
            if (i >= 0)
            {
                next[i]--;
            }

            var own = i >= 0 && next[i] == 0 ? now + 1 - pieces[i].Due : long.MinValue;
            least = Math.Min(least, Math.Max(own, Least(pieces, next, now + 1, known)));
        }

        return known[state] = least;

        bool Open(Piece piece) => piece.After.Any(key => left[Array.FindIndex(pieces, other => other.Key == key)] > 0);
    }

    private static long? MaxLateness(Piece[] pieces, SplitSchedule schedule)
    {
        var finishes = schedule.Finishes();
        return pieces.Max(piece => finishes[piece.Key] - piece.Due);
    }
}
