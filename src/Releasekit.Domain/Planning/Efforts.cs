namespace Releasekit.Domain.Planning;

/// <summary>The effort a plan reckons with.</summary>
internal static class Efforts
{
    /// <summary>Five years of full working weeks: more is never done, and sums of it stay countable.</summary>
    private static readonly Duration Longest = Duration.FromHours(10_000);

    /// <summary>Zero when nobody guessed, and never more than anybody could work off.</summary>
    public static Duration Reckoned(Duration? effort) => Duration.Min(effort ?? Duration.Zero, Longest);
}
