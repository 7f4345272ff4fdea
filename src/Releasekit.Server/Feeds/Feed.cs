namespace Releasekit.Server.Feeds;

/// <summary>A calendar subscription as it is kept: its secret address only as a digest.</summary>
/// <param name="Id">The first half of the digest of the secret.</param>
/// <param name="Series">Slugs of the series in it; empty for all of them.</param>
/// <param name="LastFetchedAt">To the minute; null while nobody fetched it.</param>
internal sealed record Feed(
    Guid Id,
    string Publisher,
    string Name,
    IReadOnlyList<string> Series,
    FeedStages Stages,
    FeedPrivacy Privacy,
    Instant CreatedAt,
    Instant? LastFetchedAt = null);

/// <summary>How open stages stand in a feed.</summary>
internal enum FeedStages
{
    /// <summary>As events at the time they are due: calendar subscriptions ignore to-dos.</summary>
    Event,

    /// <summary>As to-dos.</summary>
    Todo,

    /// <summary>Not at all.</summary>
    None,
}

/// <summary>How much a feed tells.</summary>
internal enum FeedPrivacy
{
    /// <summary>Titles, stages, links.</summary>
    Full,

    /// <summary>Only that something stands there.</summary>
    Busy,
}
