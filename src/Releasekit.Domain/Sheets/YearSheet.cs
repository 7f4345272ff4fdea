using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>A year on one page: what was promised, and the big things of each month.</summary>
/// <param name="Year">2026.</param>
/// <param name="Today">The publisher's local date it was made on.</param>
/// <param name="Series">How each series keeps its promise this year.</param>
/// <param name="Months">January to December.</param>
/// <param name="UnderWay">Projects that were started and are not finished, by the date they shall be.</param>
/// <param name="Candidates">Projects for later, the highest rank first.</param>
public sealed record YearSheet(
    int Year,
    LocalDate Today,
    IReadOnlyList<SeriesLine> Series,
    IReadOnlyList<YearMonthLine> Months,
    IReadOnlyList<ProjectLine> UnderWay,
    IReadOnlyList<ProjectLine> Candidates)
{
    /// <summary>The sheet of a year.</summary>
    public static YearSheet Of(SheetFacts facts, int year)
    {
        var (from, to) = (new LocalDate(year, 1, 1), new LocalDate(year + 1, 1, 1));
        var slots = SheetSlots.Between(facts, from, to).ToLookup(slot => facts.DateOf(slot.At).Month);
        var things = BigThings.Between(facts, from, to).ToLookup(thing => thing.From.Month);

        return new(
            year,
            facts.Today,
            SeriesLine.Between(facts, from, to),
            [
                .. Enumerable.Range(1, 12).Select(month => new YearMonthLine(
                    CalendarPeriod.Holding(PeriodKind.Month, new(year, month, 1)).ToString(),
                    [.. slots[month]],
                    [.. things[month]])),
            ],
            [
                .. facts.Projects.Where(project => project.State is ProjectState.Started)
                    .OrderBy(project => project.FinishBy)
                    .Select(project => ProjectLine.Of(project, facts)),
            ],
            [
                .. facts.Projects.Where(project => project.State is ProjectState.Candidate)
                    .OrderByDescending(project => project.Rank)
                    .ThenBy(project => project.ProposedAt)
                    .Select(project => ProjectLine.Of(project, facts)),
            ]);
    }
}

/// <param name="Month">2026-03.</param>
/// <param name="Slots">What was promised or published, by time.</param>
/// <param name="BigThings">What else the month holds, by date.</param>
public sealed record YearMonthLine(
    string Month, IReadOnlyList<SheetSlot> Slots, IReadOnlyList<BigThing> BigThings);

/// <param name="Project">The id of the project.</param>
/// <param name="Title">Its title.</param>
/// <param name="Rank">1 to 3, 3 the highest.</param>
/// <param name="Goal">What will be there when it is finished; null before it is started.</param>
/// <param name="FinishBy">The local date by whose end it shall be finished; null before it is started.</param>
/// <param name="Standing">How far it has come, in words; null before it is started.</param>
/// <param name="Overdue">Whether that date is over.</param>
public sealed record ProjectLine(
    Guid Project, string Title, int Rank, string? Goal, LocalDate? FinishBy, string? Standing, bool Overdue)
{
    internal static ProjectLine Of(Project project, SheetFacts facts)
    {
        var progress = ProjectProgress.Of(project, facts.Publisher, facts.Now);

        return new(
            project.Id, project.Title, project.Rank, project.Goal, project.FinishBy, progress?.Standing,
            progress?.Overdue ?? false);
    }
}
