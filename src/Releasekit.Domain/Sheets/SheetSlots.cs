namespace Releasekit.Domain.Sheets;

/// <summary>The promised and the extra publications of some days.</summary>
internal static class SheetSlots
{
    /// <summary>From <paramref name="from"/> included to <paramref name="to"/> excluded, by time.</summary>
    public static IReadOnlyList<SheetSlot> Between(SheetFacts facts, LocalDate from, LocalDate to)
    {
        var promised =
            from series in facts.Series
            from slot in series.Slots
            select Show(facts, series, slot);

        var matched = facts.Series
            .SelectMany(series => series.Slots)
            .Select(slot => slot.Outcome.Release)
            .OfType<Guid>()
            .ToHashSet();
        var extras =
            from release in facts.Releases
            where release.PublishedAt is not null && release.HeldSlot is null && !matched.Contains(release.Id)
            let at = release.PublishedAt!.Value
            select new SheetSlot(
                release.Series, facts.TitleOf(release.Series), null, at, facts.TimeOf(at), null, release.Id,
                release.Title);

        return
        [
            .. promised.Concat(extras)
                .Where(slot => facts.DateOf(slot.At) is var date && from <= date && date < to)
                .OrderBy(slot => slot.At)
                .ThenBy(slot => slot.SeriesTitle, StringComparer.Ordinal),
        ];
    }

    private static SheetSlot Show(SheetFacts facts, SeriesFacts series, JudgedSlot slot) => new(
        series.Series.Slug,
        series.Series.Title,
        slot.Slot.Date,
        slot.Slot.At,
        facts.TimeOf(slot.Slot.At),
        slot.Outcome.Status,
        slot.Outcome.Release,
        facts.Find(slot.Outcome.Release)?.Title);
}
