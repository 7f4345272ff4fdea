using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>A thought for a future release.</summary>
/// <param name="Worth">1 to 3, 3 the highest; null while nobody said.</param>
/// <param name="Release">The release it became; null while it is an idea.</param>
/// <param name="Similar">What looked much the same when the text was written.</param>
public sealed record Idea(
    Guid Id, string Text, string? Series, IReadOnlyList<string> Tags, int? Worth, Duration? Effort, Instant NotedAt,
    Instant ChangedAt, Instant? RemovedAt, Guid? Release, Instant? PromotedAt, IReadOnlyList<Likeness> Similar);

/// <summary>An idea or release whose words are much the same.</summary>
/// <param name="Similarity">0 to 1.</param>
public sealed record Likeness(string Address, string Title, double Similarity);

/// <summary>An idea to note; a text is enough.</summary>
public sealed record IdeaValues(
    string Text, string? Series = null, IReadOnlyList<string>? Tags = null, int? Worth = null, Duration? Effort = null,
    Instant? NotedAt = null);

/// <summary>An idea with its place and why it has it.</summary>
/// <param name="Rank">1 is the best.</param>
public sealed record RankedIdea(
    int Rank, Idea Idea, int Worth, Duration Effort, double WorthPerHour, string Reason);

/// <summary>What an idea becomes.</summary>
/// <param name="Series">The idea's own when null.</param>
/// <param name="Title">The first line of the idea when null.</param>
public sealed record PromoteIdea(
    string? Series = null, string? Title = null, LocalDate? Slot = null, string? StagePlan = null);

/// <summary>Which ideas to list; null lets all through.</summary>
public sealed record IdeaFilter(
    [property: AliasAs("series")] string? Series = null,
    [property: AliasAs("worth")] int? Worth = null,
    [property: AliasAs("promoted")] bool? Promoted = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("tag")] string? Tag = null,
    [property: AliasAs("removed")] bool? Removed = null);
