using Marten;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;
using Releasekit.Server.Store;

namespace Releasekit.Server.Work;

/// <summary>Makes the tasks of recurrences some time ahead.</summary>
internal static class TasksAhead
{
    /// <summary>Begins a recurrence with a task that is its first, and makes those that follow.</summary>
    /// <returns>The first task as it is then: in the first period that the rule meets.</returns>
    public static PlannedTask Begin(
        IDocumentSession session, TaskKind kind, string rule, PlannedTask first, EntryScene scene)
    {
        var recurrence = Recurrence.Begin(NewIds.Next(), rule, first);
        var periods = recurrence.Missing(scene.Today, out var madeUntil);
        session.Insert(recurrence with { MadeUntil = madeUntil });
        Make(session, kind, recurrence, periods.Skip(1), scene.Now);

        return recurrence.TaskOf(periods[0], first.Id, scene.Now) with
        {
            NotedAt = first.NotedAt,
            CompletedAt = first.CompletedAt,
        };
    }

    /// <summary>Makes what is missing of every recurrence of the session's publisher.</summary>
    public static async Task Continue(IDocumentSession session, EntryScene scene)
    {
        foreach (var recurrence in await session.Query<Recurrence>().ToListAsync(scene.Cancel))
        {
            var missing = recurrence.Missing(scene.Today, out var madeUntil);

            if (madeUntil > recurrence.MadeUntil)
            {
                session.Store(recurrence with { MadeUntil = madeUntil });
                Make(session, new TaskKind(), recurrence, missing, scene.Now);
            }
        }
    }

    /// <summary>Ends a recurrence before a date; what was made for later and is still open is removed.</summary>
    public static async Task End(
        IDocumentSession session, TaskKind kind, Guid id, PlannedTask before, EntryScene scene)
    {
        if (await session.LoadAsync<Recurrence>(id, scene.Cancel) is not { } recurrence)
        {
            return;
        }

        session.Store(recurrence with { EndsBefore = before.When.First });
        var later = await session.Query<PlannedTask>()
            .Where(task => task.Recurrence == id && task.RemovedAt == null && task.CompletedAt == null
                && task.When.First > before.When.First)
            .ToListAsync(scene.Cancel);

        foreach (var task in later)
        {
            EntryWriting.Store(kind, session, task with { RemovedAt = scene.Now, ChangedAt = scene.Now });
        }
    }

    private static void Make(
        IDocumentSession session, TaskKind kind, Recurrence recurrence, IEnumerable<CalendarPeriod> periods,
        Instant now)
    {
        foreach (var period in periods)
        {
            EntryWriting.Store(kind, session, recurrence.TaskOf(period, NewIds.Next(), now));
        }
    }
}
