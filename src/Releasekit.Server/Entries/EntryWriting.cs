using Marten;
using Releasekit.Domain.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;
using Releasekit.Server.Store;

namespace Releasekit.Server.Entries;

/// <summary>How an entry is written: checked, resolved, stored, and put where search finds it.</summary>
internal static class EntryWriting
{
    public static async Task<(TEntry Entry, Problem? Problem)> Write<TEntry, TValues, TBody>(
        EntryKind<TEntry, TValues, TBody> kind, UnitOfWork unit, TEntry? before, TValues values, Guid id,
        EntryScene scene)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        var written = kind.Write(before, values, id, scene) with { ChangedAt = scene.Now };

        if ((kind.CheckValues(values, before, scene) ?? kind.Check(written, scene.Now)) is { } refusal)
        {
            return (written, Problems.Of(refusal));
        }

        (written, var problem) = await kind.Resolve(written, before, values, scene);

        if (problem is null)
        {
            Store(kind, unit.Documents, written);
        }

        return (written, problem);
    }

    /// <summary>Stores an entry, found from now on; one that is removed is not.</summary>
    public static void Store<TEntry, TValues, TBody>(
        EntryKind<TEntry, TValues, TBody> kind, IDocumentSession session, TEntry entry)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        session.Store(entry);

        if (entry.RemovedAt is null)
        {
            SearchIndex.Put(session, kind.Name, entry.Id, kind.AddressOf(entry.Id), kind.Searched(entry));
        }
        else
        {
            SearchIndex.Remove(session, kind.Name, entry.Id);
        }
    }
}
