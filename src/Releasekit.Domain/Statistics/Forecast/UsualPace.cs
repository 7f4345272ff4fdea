using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>What a past release says of an open one.</summary>
/// <param name="Hours">Until it is ready, elapsed; not a number when that release is none to go by.</param>
/// <param name="Delay">From then, or from the slot where that is later, to its publication, elapsed hours.</param>
public readonly record struct PastPace(double Hours, double Delay);

/// <summary>
/// How long until a release is ready if it goes on as past ones did, waiting included: nobody works on a release
/// without a pause from the day it is planned. For each past release:
/// <list type="bullet">
/// <item>begun: from the same stages done to ready it took so long; less what the release has spent there already;
/// </item>
/// <item>not begun, with a slot: it was ready so long before its slot; or, where it had begun by so long before its
/// slot, begun now and taking as long from its start;</item>
/// <item>ready, and the slot has come: it was published so much later than it could have been, as people fall ill and
/// forget.</item>
/// </list>
/// A past release that would have been ready, or published, by now is none to go by.
/// </summary>
/// <param name="SlotHours">Elapsed hours from now to the slot; null without one.</param>
/// <param name="Rows">By past release.</param>
public sealed record UsualPace(double? SlotHours, IReadOnlyList<PastPace> Rows)
{
    /// <summary>The pace of an open release.</summary>
    /// <param name="release">The open one.</param>
    /// <param name="slotAt">Where its slot stands, UTC; null without one.</param>
    /// <param name="past">Published ones, with what was promised of their slots, UTC; null without one.</param>
    /// <param name="now">UTC.</param>
    public static UsualPace Of(
        ReleaseFacts release, Instant? slotAt, IReadOnlyList<(ReleaseFacts Facts, Instant? SlotAt)> past, Instant now)
    {
        var done = release.Stages
            .Where(stage => stage.Role is StageRole.Making && stage.CompletedAt is not null)
            .Select(stage => stage.Key)
            .ToHashSet();
        var reached = ReachedAt(release, done);

        return new(
            (slotAt - now)?.TotalHours,
            [
                .. past.Select(one => release.ReadyAt is { } ready
                    ? Ready(DelayOf(one.Facts, one.SlotAt), (now - Later(ready, slotAt)).TotalHours)
                    : new PastPace(
                        AboveZero(reached is { } since
                            ? FromStages(one.Facts, done) - (now - since).TotalHours
                            : FromSlot(one.Facts, one.SlotAt, slotAt, now)),
                        DelayOf(one.Facts, one.SlotAt))),
            ]);
    }

    private static PastPace Ready(double delay, double waited) => waited <= 0
        ? new(0, delay)
        : new(double.IsNaN(AboveZero(delay - waited)) ? double.NaN : 0, delay - waited);

    private static double FromStages(ReleaseFacts past, HashSet<string> done) =>
        ReachedAt(past, done) is { } reached && past.ReadyAt is { } ready ? (ready - reached).TotalHours : double.NaN;

    private static double FromSlot(ReleaseFacts past, Instant? pastSlot, Instant? slot, Instant now)
    {
        if (pastSlot is not { } promised || slot is not { } at
            || past is not { ReadyAt: { } ready, BegunBy: { } begun })
        {
            return double.NaN;
        }

        var ahead = at - now;

        return promised - begun < ahead
            ? (ahead - (promised - ready)).TotalHours
            : (ready - begun).TotalHours;
    }

    private static double DelayOf(ReleaseFacts past, Instant? slotAt) =>
        past is { ReadyAt: { } ready, PublishedAt: { } published } && slotAt is not null
            ? Math.Max(0, (published - Later(ready, slotAt)).TotalHours)
            : 0;

    /// <summary>When the last of these stages was done; the start when none is; null when that is not told.</summary>
    private static Instant? ReachedAt(ReleaseFacts release, HashSet<string> done) => done.Count == 0
        ? release.StartedAt
        : release.Stages.Where(stage => done.Contains(stage.Key)).Max(stage => stage.CompletedAt);

    private static Instant Later(Instant at, Instant? slotAt) => slotAt is { } slot && slot > at ? slot : at;

    private static double AboveZero(double hours) => hours > 0 ? hours : double.NaN;
}
