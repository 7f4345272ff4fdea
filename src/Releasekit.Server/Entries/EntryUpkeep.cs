using Marten;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;
using Releasekit.Server.Work;

namespace Releasekit.Server.Entries;

/// <summary>
/// What time does to entries: those removed a month ago are forgotten, tasks that come again are made ahead.
/// </summary>
internal sealed class EntryUpkeep(IDocumentStore store)
{
    public async Task Run(Instant now, CancellationToken cancel)
    {
        await using var everyone = store.QuerySession();
        var publishers = await everyone.Query<Publisher>().Select(publisher => publisher.Id).ToListAsync(cancel);

        foreach (var publisher in publishers)
        {
            await using var session = store.LightweightSession(publisher);
            await TasksAhead.Continue(session, await EntryScene.Load(session, now, cancel));
            Forget<Idea>(session, now);
            Forget<Note>(session, now);
            Forget<Want>(session, now);
            Forget<PlannedTask>(session, now);
            Forget<Appointment>(session, now);
            await session.SaveChangesAsync(cancel);
        }
    }

    private static void Forget<TEntry>(IDocumentSession session, Instant now)
        where TEntry : Entry
    {
        var keptSince = now - Entry.KeptRemoved;
        session.DeleteWhere<TEntry>(entry => entry.RemovedAt < keptSince);
    }
}
