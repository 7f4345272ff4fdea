using System.Globalization;
using System.Text.Json;
using CsCheck;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Domain.Tests.Planning.Sequencing;

/// <summary>
/// Pieces from the check values (numbered from 1, as their sources do), at random, and all their orders.
/// </summary>
internal static class PieceCases
{
    public static CheckCase Find(string id) => CheckCase.Find("statistics.json", id);

    public static Piece[] Pieces(this CheckCase check)
    {
        var lengths = check.Inputs.Longs("p");
        var dues = check.Inputs.Longs("d");
        var ready = check.Inputs.TryGetProperty("r", out _) ? check.Inputs.Longs("r") : null;
        var weights = check.Inputs.TryGetProperty("w", out _) ? check.Inputs.Longs("w") : null;
        var links = check.Inputs.TryGetProperty("precedence", out var precedence)
            ? precedence.EnumerateArray()
                .Select(link => (Before: link[0].ToString(), After: link[1].ToString())).ToArray()
            : [];

        return
        [
            .. lengths.Select((length, i) => new Piece(Name(i + 1), length, dues[i], weights?[i] ?? 1, ready?[i] ?? 0)
            {
                After = [.. links.Where(link => link.After == Name(i + 1)).Select(link => link.Before)],
            }),
        ];
    }

    /// <summary>Up to seven short pieces, some of them following others.</summary>
    public static Gen<Piece[]> Few { get; } = Gen
        .Select(Gen.Long[0, 6], Gen.Long[-2, 20], Gen.Long[0, 5], Gen.Long[0, 8], Gen.Int[0, 127]).Array[0, 7]
        .Select(rows => rows.Select((row, i) => new Piece(Name(i), row.Item1, row.Item2, row.Item3, row.Item4)
        {
            // A third of the links an order allows, so that most orders stay possible.
            After = [.. Enumerable.Range(0, i).Where(before => (row.Item5 >> before & 1) == 1 && before % 3 == 0)
                .Select(before => Name(before))],
        }).ToArray());

    public static Piece[] AllReady(this IEnumerable<Piece> pieces) =>
        [.. pieces.Select(piece => piece with { ReadyAt = 0 })];

    /// <summary>At most six of them, all ready and none following another.</summary>
    public static Piece[] Loose(this IEnumerable<Piece> pieces) =>
        [.. pieces.Take(6).AllReady().Select(piece => piece with { After = [] })];

    /// <summary>Every order in which nothing stands before what it follows.</summary>
    public static IEnumerable<Sequence> AllOrders(IReadOnlyList<Piece> pieces) =>
        Orders([], pieces).Select(order => new Sequence(order));

    public static Sequence InOrder(this IReadOnlyList<Piece> pieces, params IEnumerable<long> keys) =>
        new([.. keys.Select(key => pieces.Single(piece => piece.Key == Name(key)))]);

    public static IEnumerable<long> Keys(IEnumerable<Piece> pieces) =>
        pieces.Select(piece => long.Parse(piece.Key, CultureInfo.InvariantCulture));

    public static long[] Longs(this JsonElement element, string name) =>
        [.. element.GetProperty(name).EnumerateArray().Select(item => item.GetInt64())];

    public static long Long(this JsonElement element, string name) => element.GetProperty(name).GetInt64();

    public static string Name(long number) => number.ToString(CultureInfo.InvariantCulture);

    private static IEnumerable<Piece[]> Orders(Piece[] done, IReadOnlyList<Piece> left)
    {
        if (left.Count == 0)
        {
            return [done];
        }

        return left
            .Where(piece => !left.Any(other => piece.After.Contains(other.Key)))
            .SelectMany(piece => Orders([.. done, piece], [.. left.Where(other => other != piece)]));
    }
}
