using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;

namespace Releasekit.Domain.Tests.Planning;

/// <summary>Releases of a weekly audio series, promised Thursdays at seven, made in office hours.</summary>
internal static class Episodes
{
    /// <summary>A Monday, nine o'clock.</summary>
    public static readonly Instant Monday9 = Instant.FromUtc(2024, 5, 6, 9, 0);

    /// <summary>The Thursday of the same week, seven o'clock, before work begins.</summary>
    public static readonly Instant Slot = Instant.FromUtc(2024, 5, 9, 7, 0);

    public static readonly WorkingCalendar Office = new(Publisher.UsualWeek, [], [], DateTimeZone.Utc);

    /// <summary>
    /// Outline 2 h → cut 4 h → mix 8 h → publish; notes 3 h → publish; announce 1 h, site page 2 h within a day.
    /// </summary>
    public static readonly PlannedStage[] Plan =
    [
        Stage("outline", 2),
        Stage("cut", 4, "outline"),
        Stage("mix", 8, "cut"),
        Stage("notes", 3, "outline"),
        Stage("publish", null, "mix", "notes") with { Publication = true },
        Stage("announce", 1, "publish") with { Within = Duration.FromHours(4) },
        Stage("site-page", 2, "announce") with { Within = Duration.FromDays(1) },
    ];

    public static PlannedStage Stage(string key, double? hours, params string[] after) =>
        new(key, key, false, hours is { } effort ? Duration.FromHours(effort) : null, after, [], null, []);

    public static Release Planned(IReadOnlyList<PlannedStage> plan, params ReleaseEvent[] then) =>
        Planned(new Guid(1, 0, 0, new byte[8]), plan, then);

    public static Release Planned(Guid id, IReadOnlyList<PlannedStage> plan, params ReleaseEvent[] then)
    {
        var planned = new ReleasePlanned(id, "mudflat-weekly", "Silt", "audio", 1, plan, null, Monday9, Monday9);
        return then.Aggregate(
            (Release: Release.Evolve(null, 1, planned), Sequence: 1L),
            (so, happened) => (Release.Evolve(so.Release, so.Sequence + 1, happened), so.Sequence + 1)).Release;
    }

    public static StageCompleted Done(string stage, Instant? at = null) =>
        new(stage, stage == "publish", false, null, null, at ?? Monday9, at ?? Monday9);

    public static StageStarted Started(string stage) => new(stage, null, Monday9, Monday9);
}
