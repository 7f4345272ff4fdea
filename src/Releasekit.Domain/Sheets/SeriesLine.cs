using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Sheets;

/// <summary>How a series keeps its promise in the days of a sheet.</summary>
/// <param name="Series">The id of the series.</param>
/// <param name="Title">Its title.</param>
/// <param name="Cadence">When it promises something, in words.</param>
/// <param name="OnTime">Slots met.</param>
/// <param name="Late">Published after the tolerance.</param>
/// <param name="Missed">Nothing published, or overdue.</param>
/// <param name="ToCome">Slots whose time is to come, those within the tolerance included.</param>
/// <param name="Excused">In a break, or given up in time.</param>
/// <param name="Bank">Finished releases in stock now.</param>
public sealed record SeriesLine(
    string Series, string Title, string Cadence, int OnTime, int Late, int Missed, int ToCome, int Excused, int Bank)
{
    /// <summary>
    /// The series that promise or published something from <paramref name="from"/> included to <paramref name="to"/>
    /// excluded, and those that are open.
    /// </summary>
    internal static IReadOnlyList<SeriesLine> Between(SheetFacts facts, LocalDate from, LocalDate to) =>
    [
        .. facts.Series
            .Select(series => (series.Series, States: StatesOf(facts, series, from, to)))
            .Where(line => line.Series.ClosedAt is null || line.States.Length > 0)
            .Select(line => new SeriesLine(
                line.Series.Slug,
                line.Series.Title,
                CadenceWords.Of(line.Series.Cadence),
                line.States.Count(state => state is SlotStatus.Met),
                line.States.Count(state => state is SlotStatus.Late),
                line.States.Count(state => state is SlotStatus.Missed or SlotStatus.Overdue),
                line.States.Count(state => state is SlotStatus.Open or SlotStatus.Held or SlotStatus.Pending),
                line.States.Count(state => state is SlotStatus.Excused),
                facts.Releases.Count(release =>
                    release.Series == line.Series.Slug && release.State is ReleaseState.Finished))),
    ];

    private static SlotStatus[] StatesOf(SheetFacts facts, SeriesFacts series, LocalDate from, LocalDate to) =>
    [
        .. series.Slots
            .Where(slot => facts.DateOf(slot.Slot.At) is var date && from <= date && date < to)
            .Select(slot => slot.Outcome.Status),
    ];
}
