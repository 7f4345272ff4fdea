namespace Releasekit.Domain.Planning;

/// <summary>
/// The critical path method: forwards ES = max EF of the predecessors and EF = ES + effort, backwards LF = min LS of
/// the successors and LS = LF - effort (Kelley and Walker 1959; any textbook). It assumes that what can go on side by
/// side does: for one person it is a bound, and the capacity plan the answer.
/// </summary>
/// <param name="Length">Working time to the last earliest finish; zero for an empty network.</param>
/// <param name="Activities">As listed.</param>
public sealed record CriticalPath(Duration Length, IReadOnlyList<ActivityTimes> Activities)
{
    /// <summary>Keys of the critical activities, as listed; several paths may be among them.</summary>
    public IEnumerable<string> Critical => Activities.Where(times => times.IsCritical).Select(times => times.Key);

    /// <summary>
    /// The times of every activity; null when the network cannot be worked, and then why, the offending keys named.
    /// </summary>
    public static CriticalPath? TryFind(IReadOnlyList<Activity> activities, out string? fault)
    {
        var order = ActivityOrder.Of(activities, activity => activity.Key, activity => activity.After, out fault);
        if (order is null)
        {
            return null;
        }

        var next = activities
            .SelectMany(activity => activity.After.Select(before => (before, activity)))
            .ToLookup(link => link.before, link => link.activity);
        var earliest = EarliestFinishes(order);
        var length = earliest.Values.Aggregate(Duration.Zero, Duration.Max);
        var latest = LatestFinishes(order, next, length);
        var least = order
            .Select(activity => latest[activity.Key] - earliest[activity.Key])
            .DefaultIfEmpty(Duration.Zero).Min();

        return new CriticalPath(length, [.. activities.Select(activity =>
        {
            var (finish, limit) = (earliest[activity.Key], latest[activity.Key]);
            var moves = next[activity.Key]
                .Select(after => earliest[after.Key] - after.Effort)
                .DefaultIfEmpty(activity.Due ?? length).Min();

            return new ActivityTimes(
                activity.Key, finish - activity.Effort, finish, limit - activity.Effort, limit,
                limit - finish, moves - finish, limit - finish == least);
        })]);
    }

    private static Dictionary<string, Duration> EarliestFinishes(IEnumerable<Activity> order)
    {
        var earliest = new Dictionary<string, Duration>();
        foreach (var activity in order)
        {
            earliest[activity.Key] = activity.After
                .Select(before => earliest[before])
                .Aggregate(activity.NotBefore, Duration.Max) + activity.Effort;
        }

        return earliest;
    }

    private static Dictionary<string, Duration> LatestFinishes(
        IEnumerable<Activity> order, ILookup<string, Activity> next, Duration length)
    {
        var latest = new Dictionary<string, Duration>();
        foreach (var activity in order.Reverse())
        {
            latest[activity.Key] = next[activity.Key]
                .Select(after => latest[after.Key] - after.Effort)
                .Aggregate(activity.Due ?? length, Duration.Min);
        }

        return latest;
    }
}
