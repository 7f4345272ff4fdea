namespace Releasekit.Domain.Planning;

/// <summary>One step of a network of work.</summary>
/// <param name="Key">Unique in its network.</param>
/// <param name="Effort">Working time, from zero (a milestone).</param>
/// <param name="After">Keys of the activities it follows; empty when it can begin at once.</param>
public sealed record Activity(string Key, Duration Effort, IReadOnlyList<string> After)
{
    /// <summary>When it may begin at the earliest, working time from the beginning of the network.</summary>
    public Duration NotBefore { get; init; }

    /// <summary>When it must be done, working time from the beginning; null: when the whole network is.</summary>
    public Duration? Due { get; init; }
}

/// <summary>When an activity can and must happen, in working time from the beginning of its network.</summary>
/// <param name="EarliestStart">Latest earliest finish of what it follows (ES).</param>
/// <param name="EarliestFinish">ES + effort (EF).</param>
/// <param name="LatestStart">LF - effort (LS); negative when it is too late by now.</param>
/// <param name="LatestFinish">Earliest latest start of what follows it, and its own due (LF).</param>
/// <param name="TotalFloat">
/// LS - ES: how much later it can begin and all is met; negative: by how much it is too late.
/// </param>
/// <param name="FreeFloat">
/// Least ES of what follows it - EF: how much later it can finish without moving anything; for the last ones, due - EF.
/// </param>
/// <param name="IsCritical">Whether no other activity has less total float: a delay here delays the whole.</param>
public sealed record ActivityTimes(
    string Key,
    Duration EarliestStart,
    Duration EarliestFinish,
    Duration LatestStart,
    Duration LatestFinish,
    Duration TotalFloat,
    Duration FreeFloat,
    bool IsCritical);
