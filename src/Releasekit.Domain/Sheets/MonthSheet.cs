using Releasekit.Domain.Releases;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>A month on one page: a line for each day, releases by stages, and what must not slip.</summary>
/// <param name="Month">2026-03.</param>
/// <param name="Today">The publisher's local date it was made on.</param>
/// <param name="Series">How each series keeps its promise this month.</param>
/// <param name="Days">Every day of the month.</param>
/// <param name="Matrices">
/// Releases with a slot or a publication in this month; in the current one also what is being made for later, what is
/// left from before, and what has no slot.
/// </param>
/// <param name="Warnings">What asks for a decision; empty for months that are over.</param>
/// <param name="Tasks">
/// Tasks that stand in this month or a week of it, and the important ones for a day; important ones first.
/// </param>
/// <param name="Ideas">
/// The latest that are no releases yet, newest first; empty for another month than the current one.
/// </param>
public sealed record MonthSheet(
    string Month,
    LocalDate Today,
    IReadOnlyList<SeriesLine> Series,
    IReadOnlyList<SheetDay> Days,
    IReadOnlyList<StageMatrix> Matrices,
    IReadOnlyList<SheetWarning> Warnings,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetNote> Ideas)
{
    /// <summary>The sheet of the month that begins on <paramref name="first"/>.</summary>
    public static MonthSheet Of(SheetFacts facts, LocalDate first)
    {
        var month = CalendarPeriod.Holding(PeriodKind.Month, first);
        var (from, to) = (month.First, month.Last.PlusDays(1));
        var isNow = from <= facts.Today && facts.Today < to;

        return new(
            month.ToString(),
            facts.Today,
            SeriesLine.Between(facts, from, to),
            SheetDays.Between(facts, from, to),
            StageMatrix.Of(facts, facts.Releases.Where(release => Belongs(facts, release, from, to, isNow))),
            to <= facts.Today ? [] : [.. SheetWarning.Of(facts).Where(IsOfMonth)],
            SheetTasks.Touching(
                facts, from, to, (task, period) => task.IsImportant || period.Kind is not PeriodKind.Day),
            [.. facts.Ideas.Where(_ => isNow).Select(idea => new SheetNote(idea.Id, idea.Title, idea.NotedAt))]);

        // Without a slot, and from before: it is for now.
        bool IsOfMonth(SheetWarning warning) =>
            warning.SlotOn is { } date && date >= from ? date < to : isNow;
    }

    private static bool Belongs(SheetFacts facts, Release release, LocalDate from, LocalDate to, bool isNow)
    {
        var slotOn = facts.OwedAt(release) is { } at ? facts.DateOf(at) : (LocalDate?)null;
        var isForMonth = from <= slotOn && slotOn < to;
        var isOfMonth = release.PublishedAt is { } publishedAt
            && facts.DateOf(publishedAt) is var published && from <= published && published < to;

        // Work goes on for slots to come, and is left over from slots that passed.
        var isUnderWay = release.State is ReleaseState.InProgress or ReleaseState.Finished
            || (release.State is ReleaseState.Planned && !(slotOn >= to));

        return isForMonth || isOfMonth || (isNow && isUnderWay);
    }
}
