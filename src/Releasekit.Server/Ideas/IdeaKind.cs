using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;
using Releasekit.Server.Store;

namespace Releasekit.Server.Ideas;

/// <summary>Ideas: thoughts for future releases.</summary>
internal sealed class IdeaKind : EntryKind<Idea, IdeaValues, IdeaBody>
{
    public override string Name => "idea";

    public override string Description => """
        A text is enough. "similar" names ideas and releases that look much the same, and hinders nothing.
        """;

    public override Idea Write(Idea? before, IdeaValues values, Guid id, EntryScene scene) =>
        (before ?? new Idea(id, values.Text, scene.Now)) with
        {
            Text = values.Text,
            NotedAt = values.NotedAt ?? before?.NotedAt ?? scene.Now,
            Series = values.Series,
            Tags = EntryRules.Tidied(values.Tags),
            Worth = values.Worth,
            Effort = values.Effort,
        };

    public override Refusal? Check(Idea entry, Instant now) => entry.Check(now);

    public override async Task<(Idea Entry, Problem? Problem)> Resolve(
        Idea entry, Idea? before, IdeaValues values, EntryScene scene)
    {
        if (entry.Series is { } slug
            && await scene.Documents.LoadAsync<Series>(StreamIds.OfSeries(slug), scene.Cancel) is null)
        {
            return (entry, Problems.Of("series.unknown", $"There is no series '{slug}'; open it with POST /v1/series.",
                new ProblemError("/series", "Unknown.")));
        }

        return entry.Text == before?.Text || scene.IsImport
            ? (entry, null)
            : (entry with
            {
                Similar = await Likenesses.Of(scene.Documents, entry.Id, entry.Title, scene.Cancel),
            }, null);
    }

    public override IdeaValues ValuesOf(Idea entry) =>
        new(entry.Text, entry.Series, entry.Tags, entry.Worth, entry.Effort, entry.NotedAt);

    public override IdeaBody Show(Idea entry, EntryScene scene) => IdeaBody.Of(entry);

    public override string IdentityOf(Idea entry) => entry.Text;

    public override Searchable Searched(Idea entry) =>
        new(entry.Title, $"{entry.Text}\n{string.Join(' ', entry.Tags)}", entry.ChangedAt);
}

/// <param name="Text">Its first line is what lists show.</param>
/// <param name="Series">The id of the series it is for.</param>
/// <param name="Tags">Words to find it by; kept in lower case.</param>
/// <param name="Worth">What is expected of it: 1 to 3, 3 the highest.</param>
/// <param name="Effort">A guess of the working time it takes.</param>
/// <param name="NotedAt">When it came to mind; now when left out. The lead time of its release begins here.</param>
internal sealed record IdeaValues(
    string Text,
    string? Series = null,
    IReadOnlyList<string>? Tags = null,
    int? Worth = null,
    Duration? Effort = null,
    Instant? NotedAt = null);

/// <param name="Id">Given when it was noted.</param>
/// <param name="Text">As it was written.</param>
/// <param name="Series">The id of the series it is for; null while that is open.</param>
/// <param name="Tags">In lower case, in order.</param>
/// <param name="Worth">1 to 3, 3 the highest; null while nobody said.</param>
/// <param name="Effort">Guessed working time; null while nobody guessed.</param>
/// <param name="NotedAt">When it came to mind.</param>
/// <param name="ChangedAt">When it was last changed.</param>
/// <param name="RemovedAt">When it was removed; null while it stands.</param>
/// <param name="Release">The id of the release it became; null while it is an idea.</param>
/// <param name="PromotedAt">When it became one; null while it is an idea.</param>
/// <param name="Similar">What looked much the same when the text was written, the most alike first.</param>
internal sealed record IdeaBody(
    Guid Id, string Text, string? Series, IReadOnlyList<string> Tags, int? Worth, Duration? Effort, Instant NotedAt,
    Instant ChangedAt, Instant? RemovedAt, Guid? Release, Instant? PromotedAt, IReadOnlyList<LikenessBody> Similar)
    : ITagged
{
    public static IdeaBody Of(Idea idea) => new(
        idea.Id, idea.Text, idea.Series, idea.Tags, idea.Worth, idea.Effort, idea.NotedAt, idea.ChangedAt,
        idea.RemovedAt, idea.Release, idea.PromotedAt, [.. idea.Similar.Select(LikenessBody.Of)]);
}

/// <param name="Address">Where the idea or release can be read.</param>
/// <param name="Title">Its first line.</param>
/// <param name="Similarity">Share of three-letter groups in common, 0 to 1.</param>
internal sealed record LikenessBody(string Address, string Title, double Similarity)
{
    public static LikenessBody Of(Likeness likeness) => new(likeness.Address, likeness.Title, likeness.Similarity);
}

/// <param name="Series">The id of the series it is for.</param>
/// <param name="Worth">1, 2 or 3.</param>
/// <param name="Promoted">True: only those that became releases; false: only those that did not.</param>
/// <param name="Q">Part of the text, in any case.</param>
internal sealed record IdeaFilter(
    [property: FromQuery(Name = "series")] string? Series = null,
    [property: FromQuery(Name = "worth")] int? Worth = null,
    [property: FromQuery(Name = "promoted")] bool? Promoted = null,
    [property: FromQuery(Name = "q")] string? Q = null) : IEntryFilter<Idea>
{
    public IQueryable<Idea> Apply(IQueryable<Idea> entries, EntryScene scene)
    {
        var ideas = entries;

        if (Series is { } series)
        {
            ideas = ideas.Where(idea => idea.Series == series);
        }

        if (Worth is { } worth)
        {
            ideas = ideas.Where(idea => idea.Worth == worth);
        }

        if (Promoted is { } promoted)
        {
            ideas = promoted
                ? ideas.Where(idea => idea.Release != null)
                : ideas.Where(idea => idea.Release == null);
        }

        return Q is { Length: > 0 } text
            ? ideas.Where(idea => idea.Text.Contains(text, StringComparison.OrdinalIgnoreCase))
            : ideas;
    }
}
