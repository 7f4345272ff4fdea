using Releasekit.Domain.Planning;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// What published releases took, stage by stage: one row for each release, kept whole, as a release that is long in one
/// stage is often long in others.
/// </summary>
/// <param name="Stages">Keys, the columns.</param>
/// <param name="Rows">Working hours by release and stage; a skipped stage took 0.</param>
/// <param name="LeftOut">
/// Published releases that cannot tell: with an unknown start of a stage, or without one of the stages.
/// </param>
public sealed record PastWork(
    IReadOnlyList<string> Stages, IReadOnlyList<IReadOnlyList<double>> Rows, int LeftOut)
{
    /// <summary>The past of these releases. Work done outside working hours is not seen.</summary>
    /// <param name="facts">Of the series; only the published count.</param>
    /// <param name="stages">Keys of all stages that lie ahead of open releases.</param>
    public static PastWork Of(
        IEnumerable<ReleaseFacts> facts, IReadOnlyList<string> stages, WorkingCalendar calendar)
    {
        double[]?[] rows =
        [
            .. facts.Where(one => one.PublishedAt is not null)
                .OrderBy(one => one.PublishedAt)
                .Select(one => RowOf(one, stages, calendar)),
        ];
        return new(stages, [.. rows.OfType<double[]>()], rows.Count(row => row is null));
    }

    /// <summary>Working hours on a stage up to an instant, not blocked; visits of unknown start count 0.</summary>
    internal static double HoursOn(StageFacts stage, Instant until, WorkingCalendar calendar)
    {
        var hours = 0.0;
        foreach (var visit in stage.Visits)
        {
            if (visit.From is { } from && from < until)
            {
                hours += Hours(from, Instant.Min(visit.To ?? until, until))
                    - visit.Blocked.Where(spell => spell.Start < until).Sum(spell =>
                        Hours(spell.Start, spell.HasEnd ? Instant.Min(spell.End, until) : until));
            }
        }

        return hours;

        double Hours(Instant start, Instant end) => calendar.Between(start, end)?.TotalHours ?? 0;
    }

    private static double[]? RowOf(ReleaseFacts release, IReadOnlyList<string> stages, WorkingCalendar calendar)
    {
        var row = new double[stages.Count];
        for (var i = 0; i < row.Length; i++)
        {
            var stage = release.Stages.FirstOrDefault(one => one.Key == stages[i]);
            if (stage is null || !CanTell(stage))
            {
                return null;
            }

            row[i] = stage.IsSkipped ? 0 : HoursOn(stage, release.PublishedAt!.Value, calendar);
        }

        return row;
    }

    // The publication is an act: done without a start, it took nothing.
    private static bool CanTell(StageFacts stage) => stage.IsSkipped
        || stage.Role is StageRole.Publication
        || (stage.CompletedAt is not null && stage.Visits.All(visit => visit.From is not null));
}

/// <summary>Three guesses at the work of a stage, in working hours.</summary>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Optimistic">If all goes well; not negative.</param>
/// <param name="Likely">Most often; optimistic ≤ likely ≤ pessimistic.</param>
/// <param name="Pessimistic">If much goes wrong.</param>
public sealed record StageGuess(string Stage, double Optimistic, double Likely, double Pessimistic)
{
    /// <summary>The work that is exceeded with probability 1 - share by a triangular law over the guesses.</summary>
    /// <param name="share">0 to 1.</param>
    public double HoursAt(double share)
    {
        var (a, m, b) = (Optimistic, Likely, Pessimistic);
        return share * (b - a) < m - a
            ? a + Math.Sqrt(share * (b - a) * (m - a))
            : b - Math.Sqrt((1 - share) * (b - a) * (b - m));
    }
}
