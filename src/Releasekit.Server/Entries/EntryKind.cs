using Marten;
using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Http;
using Releasekit.Server.Search;

namespace Releasekit.Server.Entries;

/// <summary>What tells one kind of entry from another; the routes are the same for all.</summary>
/// <typeparam name="TEntry">The entry itself.</typeparam>
/// <typeparam name="TValues">What of it can be written, with POST and with PATCH.</typeparam>
/// <typeparam name="TBody">What GET shows of it.</typeparam>
internal abstract class EntryKind<TEntry, TValues, TBody>
    where TEntry : Entry
    where TValues : class
    where TBody : class, ITagged
{
    /// <summary>In prose and, with an s, in addresses: idea.</summary>
    public abstract string Name { get; }

    /// <summary>What its description says besides the usual.</summary>
    public abstract string Description { get; }

    /// <summary>The address of an entry.</summary>
    public string AddressOf(Guid id) => $"/v1/{Name}s/{id}";

    /// <summary>The entry with those values; <paramref name="before"/> is null when it is new.</summary>
    public abstract TEntry Write(TEntry? before, TValues values, Guid id, EntryScene scene);

    /// <summary>What is wrong with the values before anything is made of them.</summary>
    public virtual Refusal? CheckValues(TValues values, TEntry? before, EntryScene scene) => null;

    /// <summary>What is wrong with it, by itself.</summary>
    public abstract Refusal? Check(TEntry entry, Instant now);

    /// <summary>
    /// What it refers to is looked up, and what follows from that is put into it; a problem when it is not there.
    /// </summary>
    public virtual Task<(TEntry Entry, Problem? Problem)> Resolve(
        TEntry entry, TEntry? before, TValues values, EntryScene scene) => Task.FromResult((entry, (Problem?)null));

    /// <summary>What of it can be written, as it is now.</summary>
    public abstract TValues ValuesOf(TEntry entry);

    public abstract TBody Show(TEntry entry, EntryScene scene);

    /// <summary>By what an imported row is known to stand already.</summary>
    public abstract string IdentityOf(TEntry entry);

    /// <summary>What it is found by.</summary>
    public abstract Searchable Searched(TEntry entry);
}

/// <summary>What entries are written and shown against.</summary>
/// <param name="Documents">Of the publisher, in the transaction of the request.</param>
internal sealed record EntryScene(IQuerySession Documents, Publisher Publisher, Instant Now, CancellationToken Cancel)
{
    public DateTimeZone Zone { get; } = DateTimeZoneProviders.Tzdb[Publisher.Zone];

    /// <summary>
    /// Whether a file is taken in: nobody reads hints then, and ten thousand searches for likenesses take minutes.
    /// </summary>
    public bool IsImport { get; init; }

    public LocalDate Today => Publisher.DateAt(Now);

    /// <summary>The same documents, where something is written.</summary>
    public IDocumentSession Writing => (IDocumentSession)Documents;

    public static async Task<EntryScene> Load(IQuerySession documents, Instant now, CancellationToken cancel) => new(
        documents,
        await documents.LoadAsync<Publisher>(documents.TenantId, cancel)
            ?? throw new System.Diagnostics.UnreachableException($"No publisher {documents.TenantId}."),
        now,
        cancel);
}

/// <summary>Which entries of a kind a list shows.</summary>
internal interface IEntryFilter<TEntry>
{
    /// <summary>Why the question makes no sense; null when it does.</summary>
    Problem? Check() => null;

    IQueryable<TEntry> Apply(IQueryable<TEntry> entries, EntryScene scene);

    /// <summary>What the database cannot judge.</summary>
    bool Keeps(TEntry entry, EntryScene scene) => true;
}
