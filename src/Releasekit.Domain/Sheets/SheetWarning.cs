using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Sheets;

/// <summary>Something that asks for a decision; never decided here.</summary>
/// <param name="Kind">What is wrong.</param>
/// <param name="Release">The id of the release; null where no release is meant.</param>
/// <param name="Title">The title of the release, or of the series where no release is meant.</param>
/// <param name="SlotOn">The publisher's local date of the slot it is about; null when it is about none.</param>
/// <param name="Shortfall">Working hours too few; null when that is not what is wrong.</param>
/// <param name="Text">What is wrong, in a sentence that goes on from the title.</param>
public sealed record SheetWarning(
    WarningKind Kind, Guid? Release, string Title, LocalDate? SlotOn, Duration? Shortfall, string Text)
{
    /// <summary>How near an unplanned slot must be to be warned of.</summary>
    private const int DaysToPlan = 14;

    /// <summary>All there is, the most urgent slot first.</summary>
    internal static IReadOnlyList<SheetWarning> Of(SheetFacts facts) =>
    [
        .. Overdue(facts).Concat(Shortfalls(facts)).Concat(Blocks(facts)).Concat(Unplanned(facts))
            .OrderBy(warning => warning.SlotOn ?? LocalDate.MaxIsoValue)
            .ThenBy(warning => warning.Kind),
    ];

    private static IEnumerable<SheetWarning> Shortfalls(SheetFacts facts) =>
        from outlook in facts.Plan.Outlooks
        where !outlook.IsMet && outlook.DueAt > facts.Now
        let release = facts.Releases.FirstOrDefault(one => one.Id.ToString() == outlook.Owner)
        where release is { PublishedAt: null }
        let date = facts.DateOf(outlook.DueAt)
        let hours = SheetWording.Of(outlook.Shortfall)
        select new SheetWarning(
            WarningKind.Shortfall,
            release!.Id,
            release.Title,
            date,
            outlook.Shortfall,
            $"will miss {SheetWording.InFull(date)}: {(outlook.EffortUnknown ? "at least " : "")}{hours} of work too "
            + "much.");

    private static IEnumerable<SheetWarning> Blocks(SheetFacts facts) =>
        from release in facts.Releases
        where release.State is not (ReleaseState.Closed or ReleaseState.Dropped)
        from stage in release.Stages
        where release.StateOf(stage) is StageState.Blocked
        let since = SheetWording.DayAndMonth(facts.DateOf(stage.Latest!.At))
        select new SheetWarning(
            WarningKind.Blocked,
            release.Id,
            release.Title,
            facts.OwedAt(release) is { } at ? facts.DateOf(at) : null,
            null,
            $"is held up since {since}, {stage.Plan.Name}: {stage.Latest!.Note}");

    private static IEnumerable<SheetWarning> Overdue(SheetFacts facts) =>
        from slot in SlotsIn(facts, SlotStatus.Overdue)
        select Of(facts, slot, WarningKind.Overdue, "was promised for", "and is not out yet.");

    /// <summary>One for each series, however many slots it is: the nearest, and how many follow soon.</summary>
    private static IEnumerable<SheetWarning> Unplanned(SheetFacts facts) =>
        from slot in SlotsIn(facts, SlotStatus.Open)
        where facts.DateOf(slot.Slot.Slot.At) <= facts.Today.PlusDays(DaysToPlan)
        group slot by slot.Series into slots
        let more = slots.Count() - 1
        select Of(
            facts, slots.MinBy(slot => slot.Slot.Slot.At), WarningKind.Unplanned, "has nothing planned for",
            more == 0 ? "yet." : $"yet, nor for {SheetWording.Count(more, "slot")} within two weeks.");

    private static IEnumerable<(SeriesFacts Series, JudgedSlot Slot)> SlotsIn(SheetFacts facts, SlotStatus state) =>
        from series in facts.Series
        from slot in series.Slots
        where slot.Outcome.Status == state
        select (series, slot);

    private static SheetWarning Of(
        SheetFacts facts, (SeriesFacts Series, JudgedSlot Slot) of, WarningKind kind, string verb, string end)
    {
        var release = facts.Find(of.Slot.Outcome.Release);
        var date = facts.DateOf(of.Slot.Slot.At);

        return new(
            kind, release?.Id, release?.Title ?? of.Series.Series.Title, date, null,
            $"{verb} {SheetWording.InFull(date)} {end}");
    }
}

/// <summary>What is wrong.</summary>
public enum WarningKind
{
    /// <summary>A promised time has passed, and nothing is out.</summary>
    Overdue,

    /// <summary>The work left does not fit into the hours left.</summary>
    Shortfall,

    /// <summary>A stage cannot go on.</summary>
    Blocked,

    /// <summary>A near slot that no release holds.</summary>
    Unplanned,
}
