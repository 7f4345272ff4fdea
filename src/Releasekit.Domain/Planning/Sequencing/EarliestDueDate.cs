namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>Orders with the least maximum lateness; equal dues keep the order in which they were listed.</summary>
public static class EarliestDueDate
{
    /// <summary>
    /// By due: no order of pieces that are all ready has a smaller maximum lateness (Jackson 1955).
    /// <see cref="Piece.After"/> and <see cref="Piece.ReadyAt"/> are not looked at.
    /// </summary>
    public static Sequence Order(IEnumerable<Piece> pieces) => new([.. pieces.OrderBy(piece => piece.Due)]);

    /// <summary>
    /// By modified due, <c>d' = min(d, least d' - length of those that follow)</c>: keeps to
    /// <see cref="Piece.After"/>, and no order that does has a smaller maximum lateness (Lawler 1973). Null when the
    /// pieces follow each other in a circle or something unknown, and then why, as <see cref="CriticalPath"/> says
    /// it.
    /// </summary>
    public static Sequence? TryOrder(IReadOnlyList<Piece> pieces, out string? fault)
    {
        var order = ActivityOrder.Of(pieces, piece => piece.Key, piece => piece.After, out fault);
        if (order is null)
        {
            return null;
        }

        var dues = ModifiedDues(order);

        // The sort is stable: among equal dues, what others follow stays before them.
        return new Sequence([.. order.OrderBy(piece => dues[piece.Key])]);
    }

    /// <summary>Modified dues by key; null as <see cref="TryOrder"/> answers it.</summary>
    public static IReadOnlyDictionary<string, long>? TryModify(IReadOnlyList<Piece> pieces, out string? fault) =>
        ActivityOrder.Of(pieces, piece => piece.Key, piece => piece.After, out fault) is { } order
            ? ModifiedDues(order)
            : null;

    /// <param name="order">Everything after all it follows.</param>
    internal static Dictionary<string, long> ModifiedDues(IReadOnlyList<Piece> order)
    {
        var dues = order.ToDictionary(piece => piece.Key, piece => piece.Due);
        foreach (var piece in order.Reverse())
        {
            foreach (var before in piece.After)
            {
                dues[before] = Math.Min(dues[before], dues[piece.Key] - piece.Length);
            }
        }

        return dues;
    }
}
