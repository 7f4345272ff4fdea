using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Entries;

namespace Releasekit.Server.Entries;

/// <summary>What lists of every kind of entry can be asked.</summary>
/// <param name="Removed">True: only those that were removed and can be restored.</param>
internal sealed record EntryQuery(
    [property: FromQuery(Name = "tag")] string? Tag = null,
    [property: FromQuery(Name = "removed")] bool? Removed = null)
{
    public IQueryable<TEntry> Apply<TEntry>(IQueryable<TEntry> entries, Instant now)
        where TEntry : Entry
    {
        var keptSince = now - Entry.KeptRemoved;
        var kept = Removed is true
            ? entries.Where(entry => entry.RemovedAt >= keptSince)
            : entries.Where(entry => entry.RemovedAt == null);

        return Tag?.Trim().ToLowerInvariant() is { } tag ? kept.Where(entry => entry.Tags.Contains(tag)) : kept;
    }
}
