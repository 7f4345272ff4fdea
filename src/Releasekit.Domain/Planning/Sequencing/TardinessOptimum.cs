using System.Numerics;

namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// The least weighted tardiness for certain, by dynamic programming over subsets (Held and Karp 1962): whatever was
/// done so far, its order no longer matters, only what is left. Time n·2^n, memory 2^n.
/// </summary>
public static class TardinessOptimum
{
    /// <summary>The most pieces it is meant for: 8 MB and some tens of milliseconds.</summary>
    public const int MostPieces = 20;

    /// <summary>
    /// An order with the least weighted tardiness, all pieces ready at once; with weights of one, the least total
    /// tardiness. <see cref="Piece.After"/> and <see cref="Piece.ReadyAt"/> are not looked at.
    /// </summary>
    /// <exception cref="ArgumentOutOfRangeException">More than <see cref="MostPieces"/>.</exception>
    public static Sequence Order(IReadOnlyList<Piece> pieces)
    {
        ArgumentOutOfRangeException.ThrowIfGreaterThan(pieces.Count, MostPieces);

        var all = (1 << pieces.Count) - 1;
        var (least, length) = (new long[all + 1], new long[all + 1]);

        for (var done = 1; done <= all; done++)
        {
            var some = BitOperations.TrailingZeroCount(done);
            length[done] = length[done & (done - 1)] + pieces[some].Length;
            least[done] = long.MaxValue;

            for (var rest = done; rest != 0; rest &= rest - 1)
            {
                least[done] = Math.Min(least[done], WithLast(done, BitOperations.TrailingZeroCount(rest)));
            }
        }

        var order = new Piece[pieces.Count];
        for (var (done, at) = (all, order.Length - 1); at >= 0; at--)
        {
            var last = Enumerable.Range(0, pieces.Count)
                .First(piece => (done >> piece & 1) == 1 && WithLast(done, piece) == least[done]);
            order[at] = pieces[last];
            done &= ~(1 << last);
        }

        return new Sequence(order);

        long WithLast(int done, int last) => least[done & ~(1 << last)]
            + pieces[last].Weight * Math.Max(0, length[done] - pieces[last].Due);
    }
}
