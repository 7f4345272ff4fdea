using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Ideas;

/// <summary>Free text to find again.</summary>
/// <param name="Text">Markdown; kept as it was written.</param>
public sealed record Note(Guid Id, string Text, Instant NotedAt) : Entry(Id, NotedAt)
{
    /// <summary>The longest text, in characters.</summary>
    public const int LongestText = 100_000;

    private const int MostLinks = 50;

    /// <summary>One line; null: the first line of the text stands for it.</summary>
    public string? Title { get; init; }

    /// <summary>Addresses of what it is about, e.g. <c>/v1/releases/…</c>; in order, each once.</summary>
    public IReadOnlyList<string> Links { get; init; } = [];

    /// <summary>Refuses with a fault for each thing that is wrong; null means acceptable.</summary>
    public Refusal? Check(Instant now) => EntryRules.Refuse(
    [
        .. Title is null ? [] : EntryRules.FaultsOfLine(Title, "/title", "A title"),
        .. EntryRules.FaultsOfText(Text, "/text", "The text of a note", LongestText),
        .. Links.Count > MostLinks
            ? [new Fault("/links", $"{MostLinks} links at most; these are {Links.Count}.")]
            : Array.Empty<Fault>(),
        .. EntryRules.FaultsOf(this, now),
    ]);
}
