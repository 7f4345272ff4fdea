using Refit;

namespace Releasekit.Client.Search;

/// <summary>Everything, by its words.</summary>
public interface ISearch
{
    /// <summary>What holds the words, the best first.</summary>
    /// <param name="q">Words or their beginnings; typing errors are forgiven.</param>
    /// <param name="kind">release, series, project, idea, note, want, task, appointment; several with commas.</param>
    [Get("/v1/search")]
    Task<IApiResponse<Page<SearchHit>>> Find(
        string q, string? kind = null, int? limit = null, string? cursor = null, CancellationToken cancel = default);
}

/// <summary>Something that was found.</summary>
/// <param name="Extract">Where the words stand; put the texts together to read it.</param>
public sealed record SearchHit(
    string Kind, Guid Id, string Address, string Title, IReadOnlyList<SearchPiece> Extract, double Score,
    Instant ChangedAt);

/// <summary>A piece of an extract.</summary>
/// <param name="Hit">Whether it is a word that was looked for.</param>
public sealed record SearchPiece(string Text, bool Hit);
