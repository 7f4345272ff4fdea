namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// Something one person has to do, on the work clock: a count of whole units of available time from now on (any unit,
/// one for all). Exact when work may be split over breaks.
/// </summary>
/// <param name="Key">Unique among the pieces.</param>
/// <param name="Length">Time it takes, from zero.</param>
/// <param name="Due">When it should be finished, included; may have passed (negative).</param>
/// <param name="Weight">What a unit of lateness costs, from zero.</param>
/// <param name="ReadyAt">When it can begin at the earliest, from zero.</param>
public sealed record Piece(string Key, long Length, long Due, long Weight = 1, long ReadyAt = 0)
{
    /// <summary>Keys of the pieces it follows; empty when it can begin as soon as it is ready.</summary>
    public IReadOnlyList<string> After { get; init; } = [];
}
