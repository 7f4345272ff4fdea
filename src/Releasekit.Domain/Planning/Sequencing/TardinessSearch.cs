namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// A good order for total or weighted tardiness, all pieces ready at once: iterated local search (Lourenço, Martin and
/// Stützle 2003) over exchanges of two pieces and moves of one. The problem is NP-hard: the answer is an order as
/// good as the search found, not a proof. The same seed gives the same order.
/// </summary>
public sealed class TardinessSearch
{
    private const int MostShuffles = 6;

    private readonly Piece[] _pieces;
    private readonly long[] _lengths;
    private readonly long[] _dues;
    private readonly long[] _weights;
    private readonly SplitMix64 _random;

    private TardinessSearch(IReadOnlyList<Piece> pieces, ulong seed)
    {
        _pieces = [.. pieces];
        _lengths = [.. pieces.Select(piece => piece.Length)];
        _dues = [.. pieces.Select(piece => piece.Due)];
        _weights = [.. pieces.Select(piece => piece.Weight)];
        _random = new SplitMix64(seed);
    }

    /// <summary>
    /// The best order found. With weights of one its total tardiness is what was searched for.
    /// <see cref="Piece.After"/> and <see cref="Piece.ReadyAt"/> are not looked at.
    /// </summary>
    /// <param name="rounds">How often the best order so far is shuffled a little and improved again; from zero.</param>
    public static Sequence Order(IReadOnlyList<Piece> pieces, ulong seed, int rounds = 400)
    {
        var search = new TardinessSearch(pieces, seed);
        return new Sequence([.. search.Best(rounds).Select(piece => search._pieces[piece])]);
    }

    private int[] Best(int rounds)
    {
        // Two textbook orders to begin with: due dates are right when little is late, weight for length when all is.
        var byDue = Improved([.. Indices.OrderBy(piece => _dues[piece])]);
        var byWorth = Improved([.. Indices.OrderBy(piece => (double)_lengths[piece] / Math.Max(1, _weights[piece]))]);
        var best = byWorth.Cost < byDue.Cost ? byWorth : byDue;

        for (var round = 0; round < rounds && best.Cost > 0; round++)
        {
            var other = Improved(Shuffled(best.Order));
            if (other.Cost <= best.Cost)
            {
                best = other;
            }
        }

        return best.Order;
    }

    private IEnumerable<int> Indices => Enumerable.Range(0, _pieces.Length);

    private int[] Shuffled(int[] order)
    {
        var shuffled = (int[])order.Clone();
        for (var times = 2 + _random.Below(MostShuffles - 1); times > 0 && order.Length > 1; times--)
        {
            var (one, other) = (_random.Below(order.Length), _random.Below(order.Length));
            (shuffled[one], shuffled[other]) = (shuffled[other], shuffled[one]);
        }

        return shuffled;
    }

    /// <summary>Takes every exchange and move that helps until none does; works in the array given.</summary>
    private (int[] Order, long Cost) Improved(int[] order)
    {
        var trial = new TardinessTrial(order, _lengths, _dues, _weights);
        bool isBetter;

        do
        {
            isBetter = false;
            for (var from = 0; from < order.Length - 1; from++)
            {
                for (var to = from + 1; to < order.Length; to++)
                {
                    isBetter |= trial.TryExchange(from, to);
                    isBetter |= trial.TryMoveBack(from, to);
                    isBetter |= trial.TryMoveForward(from, to);
                }
            }
        }
        while (isBetter);

        return (order, trial.Cost);
    }
}
