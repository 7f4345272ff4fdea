using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>Free text to find again.</summary>
/// <param name="Text">Markdown.</param>
/// <param name="Links">Addresses of what it is about.</param>
public sealed record Note(
    Guid Id, string? Title, string Text, IReadOnlyList<string> Tags, IReadOnlyList<string> Links, Instant NotedAt,
    Instant ChangedAt, Instant? RemovedAt);

/// <summary>A note to write; a text is enough.</summary>
public sealed record NoteValues(
    string Text, string? Title = null, IReadOnlyList<string>? Tags = null, IReadOnlyList<string>? Links = null,
    Instant? NotedAt = null);

/// <summary>Which notes to list; null lets all through.</summary>
public sealed record NoteFilter(
    [property: AliasAs("link")] string? Link = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("tag")] string? Tag = null,
    [property: AliasAs("removed")] bool? Removed = null);
