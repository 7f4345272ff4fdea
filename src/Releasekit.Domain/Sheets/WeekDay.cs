using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Sheets;

/// <summary>A day of a week.</summary>
/// <param name="Day">What stands on it.</param>
/// <param name="Sittings">What to work on when, as the open work is laid into the hours that are left; by time.</param>
/// <param name="Done">Stages that were completed on it, by time.</param>
public sealed record WeekDay(SheetDay Day, IReadOnlyList<Sitting> Sittings, IReadOnlyList<DoneStage> Done)
{
    /// <summary>
    /// What to work on when, by time: a sitting over midnight is cut there, and two that follow each other at once on
    /// the same thing are one.
    /// </summary>
    internal static IEnumerable<Sitting> SittingsOf(SheetFacts facts)
    {
        var laid = facts.Plan.Work
            .SelectMany(work => work.Sittings.SelectMany(time => CutAtMidnight(facts, time))
                .Select(time => Name(facts, work.Work, time)))
            .OrderBy(sitting => sitting.From);
        Sitting? open = null;

        foreach (var sitting in laid)
        {
            if (open is not null && open.To == sitting.From && open.What == sitting.What && open.Of == sitting.Of)
            {
                open = open with { To = sitting.To };
                continue;
            }

            if (open is not null)
            {
                yield return open;
            }

            open = sitting;
        }

        if (open is not null)
        {
            yield return open;
        }
    }

    /// <summary>Every stage that was completed and is not open again, by time.</summary>
    internal static IEnumerable<DoneStage> WhatWasDone(SheetFacts facts) =>
        from release in facts.Releases
        from stage in release.Stages
        where stage.CompletedAt is not null
        orderby stage.CompletedAt
        select new DoneStage(
            release.Id, release.Title, stage.Plan.Key, stage.Plan.Name, stage.Plan.Publication,
            stage.CompletedAt!.Value);

    private static IEnumerable<Interval> CutAtMidnight(SheetFacts facts, Interval time)
    {
        var start = time.Start;

        while (facts.Publisher.StartOf(facts.DateOf(start).PlusDays(1)) is var midnight && midnight < time.End)
        {
            yield return new(start, midnight);
            start = midnight;
        }

        yield return new(start, time.End);
    }

    private static Sitting Name(SheetFacts facts, OpenWork work, Interval time)
    {
        if (Guid.TryParse(work.Owner, out var id) && facts.Find(id) is { } release)
        {
            return Of(release.FindStage(work.Key)!.Plan.Name, release.Title);
        }

        if (facts.Tasks.FirstOrDefault(task => task.Id == id) is { } task)
        {
            return Of(task.Title, null);
        }

        var step = StepOf(facts, work.Owner);
        return Of(step.What, step.Project);

        Sitting Of(string what, string? of) => new(
            time.Start, time.End, facts.TimeOf(time.Start), facts.TimeOf(time.End), what, of);
    }

    /// <summary>Steps are known by their project's id and their key.</summary>
    private static (string What, string? Project) StepOf(SheetFacts facts, string owner)
    {
        var (project, step) = facts.Projects
            .SelectMany(project => project.Steps.Select(step => (project, step)))
            .FirstOrDefault(one => owner == $"{one.project.Id}/{one.step.Key}");

        return step is null ? ("work", null) : (step.What, project.Title);
    }
}

/// <summary>A stretch of working time with what it is meant for.</summary>
/// <param name="From">UTC.</param>
/// <param name="To">UTC, excluded.</param>
/// <param name="Begins">The publisher's local time of day.</param>
/// <param name="Ends">The publisher's local time of day.</param>
/// <param name="What">A stage, a task or a step of a project.</param>
/// <param name="Of">The title of the release or project; null for a task.</param>
public sealed record Sitting(Instant From, Instant To, LocalTime Begins, LocalTime Ends, string What, string? Of);

/// <summary>A stage that was completed.</summary>
/// <param name="Release">The id of the release.</param>
/// <param name="Title">The title of the release.</param>
/// <param name="Stage">The key of the stage.</param>
/// <param name="Name">The name of the stage.</param>
/// <param name="Publication">Whether that published the release.</param>
/// <param name="CompletedAt">UTC.</param>
public sealed record DoneStage(
    Guid Release, string Title, string Stage, string Name, bool Publication, Instant CompletedAt);
