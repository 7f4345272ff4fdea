namespace Releasekit.Domain.Planning;

/// <summary>Puts things that follow each other in an order that can be worked.</summary>
internal static class ActivityOrder
{
    /// <summary>
    /// Everything after all it follows, otherwise as listed. Null when that is impossible, and then the reason:
    /// <c>network.key_twice</c>, <c>network.unknown_key</c> or <c>network.circle</c>, the circle named.
    /// </summary>
    public static List<T>? Of<T>(
        IReadOnlyList<T> listed, Func<T, string> key, Func<T, IReadOnlyList<string>> after, out Refusal? refusal)
        where T : class
    {
        var left = new Dictionary<string, T>();
        foreach (var one in listed)
        {
            if (!left.TryAdd(key(one), one))
            {
                refusal = Refusal.NotAcceptable(
                    "network.key_twice", $"There are two '{key(one)}'; every key may stand once.");
                return null;
            }
        }

        foreach (var (one, unknown) in listed.SelectMany(one => after(one).Select(name => (one, name))))
        {
            if (!left.ContainsKey(unknown))
            {
                refusal = Refusal.NotAcceptable(
                    "network.unknown_key", $"'{key(one)}' comes after '{unknown}', which is not there.");
                return null;
            }
        }

        List<T> order = [];
        while (order.Count < listed.Count)
        {
            var free = listed
                .Where(one => left.ContainsKey(key(one)))
                .FirstOrDefault(one => !after(one).Any(left.ContainsKey));

            if (free is null)
            {
                refusal = Refusal.NotAcceptable("network.circle", "These follow each other in a circle: "
                    + string.Join(" → ", Circle(left, after)) + "; remove one of the links.");
                return null;
            }

            left.Remove(key(free));
            order.Add(free);
        }

        refusal = null;
        return order;
    }

    /// <summary>The keys of one circle, in working order, closed by the first; everything left follows something left.</summary>
    private static List<string> Circle<T>(Dictionary<string, T> left, Func<T, IReadOnlyList<string>> after)
    {
        List<string> walk = [left.Keys.First()];

        while (true)
        {
            var before = after(left[walk[^1]]).First(left.ContainsKey);
            var seen = walk.IndexOf(before);

            if (seen >= 0)
            {
                return [before, .. walk.Skip(seen).Reverse()];
            }

            walk.Add(before);
        }
    }
}
