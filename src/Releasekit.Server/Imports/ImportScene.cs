using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Plans;
using Releasekit.Server.Store;

namespace Releasekit.Server.Imports;

/// <summary>What the rows of a run are checked against; read once while a process carries the run on.</summary>
internal sealed record ImportScene(Series Series, StagePlan Plan, KnownReleases Known)
{
    /// <summary>Days around a date that is no slot in which the nearest ones are looked for: near, else far.</summary>
    private const int Near = 40;
    private const int Far = 400;

    public static async Task<ImportScene> Load(IQuerySession session, ImportRun run, CancellationToken cancel)
    {
        var series = (await session.LoadAsync<Series>(StreamIds.OfSeries(run.Series), cancel))!;
        var plan = (await session.LoadAsync<StagePlanVersions>(run.StagePlan, cancel))!.Find(run.PlanVersion)!;

        return new(series, plan, await KnownReleases.Load(session, run.Series, cancel));
    }

    public bool IsKnown(ImportedRelease row) => Known.Has(row, Plan.Publication.Key);

    /// <summary>What is wrong with a row that could be read.</summary>
    /// <param name="slotColumn">What the file calls the column of slots.</param>
    public IEnumerable<RowError> ErrorsOf(StagedRow staged, string? slotColumn, Instant now)
    {
        if (staged.Release.Slot is { } slot && !IsKnown(staged.Release))
        {
            if (SlotCalendar.Find(Series, slot) is null)
            {
                yield return new(staged.Line, slotColumn, NoSlot(slot));
            }
            else if (Known.Holds(slot))
            {
                yield return new(
                    staged.Line, slotColumn, $"The slot of {slot:uuuu-MM-dd} is held by another release.");
            }
        }

        if (staged.Release.Decide(Guid.Empty, Series.Slug, Plan, now).Refusal is { } refusal)
        {
            yield return new(staged.Line, null, refusal.Reason);
        }
    }

    private string NoSlot(LocalDate date)
    {
        var nearest = Around(date, Near) is { Length: 2 } near ? near : Around(date, Far);
        var named = nearest.Length == 0
            ? string.Empty
            : $"; nearest {(nearest.Length == 1 ? "is" : "are")} {string.Join(" and ", nearest)}";

        return $"'{Series.Title}' promises no slot on {date:uuuu-MM-dd}{named}.";
    }

    /// <summary>The last slot before a date and the first one after it, so far as they are in reach.</summary>
    private string[] Around(LocalDate date, int days)
    {
        var dates = SlotCalendar.Between(Series, date.PlusDays(-days), date.PlusDays(days + 1))
            .Select(slot => slot.Date)
            .ToArray();

        return
        [
            .. dates.Where(other => other < date).TakeLast(1)
                .Concat(dates.Where(other => other > date).Take(1))
                .Select(other => $"{other:uuuu-MM-dd}"),
        ];
    }
}
