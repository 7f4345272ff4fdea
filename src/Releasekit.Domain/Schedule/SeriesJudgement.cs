using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Schedule;

/// <summary>What the judgement of a series needs to know of a release that is not dropped.</summary>
/// <param name="Slot">The slot it holds; null for none.</param>
/// <param name="PublishedAt">When it was published, UTC; null while it is not.</param>
public sealed record ReleaseMark(Guid Id, LocalDate? Slot, Instant? PublishedAt);

/// <summary>Judges how a series kept its promise, from its slots and its releases.</summary>
public static class SeriesJudgement
{
    /// <summary>
    /// How far ahead slots are looked at beyond the window: a publication may be early for one of them.
    /// </summary>
    private static readonly Period Ahead = Period.FromDays(60);

    /// <summary>
    /// The whole history as of <paramref name="at"/>, slots as far as <paramref name="until"/> at least.
    /// </summary>
    public static JudgedHistory Judge(
        Series series, IReadOnlyCollection<ReleaseMark> releases, LocalDate until, Instant at)
    {
        var holders = releases
            .Where(release => release.Slot is not null)
            .GroupBy(release => release.Slot!.Value)
            .ToDictionary(group => group.Key, group => group.First().Id);
        var horizon = holders.Keys
            .Append(until)
            .Append(at.InZone(series.Zone).Date)
            .Max() + Ahead;

        var slots = SlotCalendar
            .Between(series, series.Cadences.Min(reign => reign.From), horizon)
            .Select(slot => new PromisedSlot(
                slot.Date,
                slot.PromisedAt,
                slot.Excuse is not null,
                holders.TryGetValue(slot.Date, out var holder) ? holder : null,
                slot.EarlyWindow,
                slot.LateWindow))
            .ToArray();

        var publications = releases
            .Where(release => release.PublishedAt is not null)
            .Select(release => new Publication(
                release.Id, release.PublishedAt!.Value, release.PublishedAt.Value.InZone(series.Zone).LocalDateTime,
                release.Slot))
            .ToArray();

        return SlotJudgement.Judge(slots, publications, SlotCalendar.ToleranceOf(series), at);
    }
}
