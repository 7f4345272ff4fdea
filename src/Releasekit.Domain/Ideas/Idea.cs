using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Ideas;

/// <summary>A thought for a future release.</summary>
/// <param name="Text">Its first line is what lists show.</param>
public sealed record Idea(Guid Id, string Text, Instant NotedAt) : Entry(Id, NotedAt)
{
    /// <summary>The longest text, in characters.</summary>
    public const int LongestText = Wording.LongestNote;

    /// <summary>The slug of the series it is for; null while that is open.</summary>
    public string? Series { get; init; }

    /// <summary>What is expected of it, 1 to 3, 3 the highest; null while nobody said.</summary>
    public int? Worth { get; init; }

    /// <summary>A guess of the working time it takes; null while nobody guessed.</summary>
    public Duration? Effort { get; init; }

    /// <summary>What looked alike when the text was written; pointed out, never an obstacle.</summary>
    public IReadOnlyList<Likeness> Similar { get; init; } = [];

    /// <summary>The release it became; null while it is an idea.</summary>
    public Guid? Release { get; init; }

    /// <summary>When it became a release, UTC.</summary>
    public Instant? PromotedAt { get; init; }

    /// <summary>The first line, cut to the length of a title.</summary>
    public string Title => FirstLine.Of(Text);

    /// <summary>Refuses with a fault for each thing that is wrong; null means acceptable.</summary>
    public Refusal? Check(Instant now) => EntryRules.Refuse(
    [
        .. EntryRules.FaultsOfText(Text, "/text", "The text of an idea", LongestText),
        .. Worth is null or (>= 1 and <= 3) ? Array.Empty<Fault>() : [new("/worth", "A worth is 1, 2 or 3.")],
        .. EntryRules.FaultsOfEffort(Effort),
        .. EntryRules.FaultsOf(this, now),
    ]);
}

/// <summary>An idea or release whose words are much the same.</summary>
/// <param name="Address">Where it is, e.g. <c>/v1/ideas/…</c>.</param>
/// <param name="Similarity">Trigrams in common, 0 to 1.</param>
public sealed record Likeness(string Address, string Title, double Similarity);
