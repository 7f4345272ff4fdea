using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;

namespace Releasekit.Server.Ideas;

/// <summary>Notes: free text to find again, linked to anything.</summary>
internal sealed class NoteKind : EntryKind<Note, NoteValues, NoteBody>
{
    public override string Name => "note";

    public override string Description => """
        A text in Markdown is enough; it is kept as it was written. "links" are addresses of what it is about, such as
        /v1/releases/{id}.
        """;

    public override Note Write(Note? before, NoteValues values, Guid id, EntryScene scene) =>
        (before ?? new Note(id, values.Text, scene.Now)) with
        {
            Text = values.Text,
            Title = values.Title,
            NotedAt = values.NotedAt ?? before?.NotedAt ?? scene.Now,
            Tags = EntryRules.Tidied(values.Tags),
            Links = [.. (values.Links ?? []).Distinct().Order(StringComparer.Ordinal)],
        };

    public override Refusal? Check(Note entry, Instant now) => entry.Check(now);

    public override async Task<(Note Entry, Problem? Problem)> Resolve(
        Note entry, Note? before, NoteValues values, EntryScene scene)
    {
        // A link may outlive what it points to, but nobody writes one to nowhere.
        string[] added = [.. entry.Links.Except(before?.Links ?? [])];
        var unknown = await KnownAddresses.Missing(scene.Documents, added, scene.Cancel);

        return unknown.Count == 0
            ? (entry, null)
            : (entry, Problems.Of(
                "link.unknown",
                $"Nothing of yours is at {string.Join(", ", unknown)}; "
                + "a link is an address such as /v1/releases/{id}.",
                [.. unknown.Select(link => new ProblemError("/links", $"'{link}' is unknown."))]));
    }

    public override NoteValues ValuesOf(Note entry) =>
        new(entry.Text, entry.Title, entry.Tags, entry.Links, entry.NotedAt);

    public override NoteBody Show(Note entry, EntryScene scene) => new(
        entry.Id, entry.Title, entry.Text, entry.Tags, entry.Links, entry.NotedAt, entry.ChangedAt, entry.RemovedAt);

    public override string IdentityOf(Note entry) => entry.Text;

    public override Searchable Searched(Note entry) => new(
        entry.Title ?? FirstLine.Of(entry.Text), $"{entry.Text}\n{string.Join(' ', entry.Tags)}", entry.ChangedAt);
}

/// <param name="Text">Markdown.</param>
/// <param name="Title">One line; the first line of the text stands for it when left out.</param>
/// <param name="Tags">Words to find it by; kept in lower case.</param>
/// <param name="Links">Addresses of what it is about.</param>
/// <param name="NotedAt">When it came to mind; now when left out.</param>
internal sealed record NoteValues(
    [property: System.ComponentModel.DataAnnotations.MaxLength(Note.LongestText)] string Text,
    string? Title = null,
    IReadOnlyList<string>? Tags = null,
    IReadOnlyList<string>? Links = null,
    Instant? NotedAt = null);

/// <param name="Id">Given when it was noted.</param>
/// <param name="Title">One line; null: the first line of the text stands for it.</param>
/// <param name="Text">Markdown, as it was written.</param>
/// <param name="Tags">In lower case, in order.</param>
/// <param name="Links">Addresses of what it is about.</param>
/// <param name="NotedAt">When it came to mind.</param>
/// <param name="ChangedAt">When it was last changed.</param>
/// <param name="RemovedAt">When it was removed; null while it stands.</param>
internal sealed record NoteBody(
    Guid Id, string? Title, string Text, IReadOnlyList<string> Tags, IReadOnlyList<string> Links, Instant NotedAt,
    Instant ChangedAt, Instant? RemovedAt) : ITagged;

/// <param name="Link">An address that the notes are about.</param>
/// <param name="Q">Part of the text, in any case.</param>
internal sealed record NoteFilter(
    [property: FromQuery(Name = "link")] string? Link = null,
    [property: FromQuery(Name = "q")] string? Q = null) : IEntryFilter<Note>
{
    public IQueryable<Note> Apply(IQueryable<Note> entries, EntryScene scene)
    {
        var notes = Link is { } link ? entries.Where(note => note.Links.Contains(link)) : entries;

        return Q is { Length: > 0 } text
            ? notes.Where(note => note.Text.Contains(text, StringComparison.OrdinalIgnoreCase))
            : notes;
    }
}
