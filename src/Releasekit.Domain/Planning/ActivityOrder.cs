namespace Releasekit.Domain.Planning;

/// <summary>Puts things that follow each other in an order that can be worked.</summary>
internal static class ActivityOrder
{
    /// <summary>
    /// Everything after all it follows, otherwise as listed. Null when that is impossible, and then why: a key that
    /// stands twice, one that is not there, or a circle, which is named.
    /// </summary>
    public static List<T>? Of<T>(
        IReadOnlyList<T> listed, Func<T, string> key, Func<T, IReadOnlyList<string>> after, out string? fault)
        where T : class
    {
        fault = FaultOf(listed, key, after);
        if (fault is not null)
        {
            return null;
        }

        var left = listed.ToDictionary(key);
        List<T> order = [];

        while (order.Count < listed.Count)
        {
            var free = listed
                .Where(one => left.ContainsKey(key(one)))
                .FirstOrDefault(one => !after(one).Any(left.ContainsKey));

            if (free is null)
            {
                fault = "These follow each other in a circle: " + string.Join(" → ", Circle(left, after))
                    + "; remove one of the links.";
                return null;
            }

            left.Remove(key(free));
            order.Add(free);
        }

        return order;
    }

    private static string? FaultOf<T>(
        IReadOnlyList<T> listed, Func<T, string> key, Func<T, IReadOnlyList<string>> after)
    {
        var keys = new HashSet<string>();

        if (listed.FirstOrDefault(one => !keys.Add(key(one))) is { } twice)
        {
            return $"There are two '{key(twice)}'; every key may stand once.";
        }

        return listed
            .SelectMany(one => after(one).Where(name => !keys.Contains(name)), (one, unknown) =>
                $"'{key(one)}' comes after '{unknown}', which is not there.")
            .FirstOrDefault();
    }

    /// <summary>
    /// The keys of one circle, in working order, closed by the first; everything left follows something left.
    /// </summary>
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
