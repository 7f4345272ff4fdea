namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// Pieces done one after the other, each unbroken and begun as soon as it is ready and the one before is finished.
/// A piece is late by its finish minus its due, and tardy by that where it is above zero.
/// </summary>
public sealed class Sequence
{
    /// <summary>That order; it is not checked against what the pieces follow.</summary>
    public Sequence(IReadOnlyList<Piece> order)
    {
        Order = order;
        var finishes = new long[order.Count];
        var now = 0L;
        for (var at = 0; at < order.Count; at++)
        {
            now = Math.Max(now, order[at].ReadyAt) + order[at].Length;
            finishes[at] = now;
        }

        Finishes = finishes;
    }

    /// <summary>First to last.</summary>
    public IReadOnlyList<Piece> Order { get; }

    /// <summary>The finish of each piece of <see cref="Order"/>, on the work clock.</summary>
    public IReadOnlyList<long> Finishes { get; }

    /// <summary>The largest lateness, negative when all is early (Lmax); null without pieces.</summary>
    public long? MaxLateness => Order.Count == 0 ? null : Lateness.Max();

    /// <summary>How many finish after their due.</summary>
    public int LateCount => Lateness.Count(late => late > 0);

    /// <summary>All tardiness together.</summary>
    public long TotalTardiness => Lateness.Sum(late => Math.Max(0, late));

    /// <summary>All tardiness together, each times its weight.</summary>
    public long WeightedTardiness => Order.Zip(Lateness, (piece, late) => piece.Weight * Math.Max(0, late)).Sum();

    private IEnumerable<long> Lateness => Order.Zip(Finishes, (piece, finish) => finish - piece.Due);
}
