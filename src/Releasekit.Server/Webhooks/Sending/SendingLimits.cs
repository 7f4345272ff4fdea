namespace Releasekit.Server.Webhooks.Sending;

/// <summary>How long and how much an attempt may take.</summary>
/// <param name="Connect">From the look-up of the name to the secure connection.</param>
/// <param name="Total">From the first moment to the last byte that is read.</param>
/// <param name="ConnectionLife">After so long a connection is made anew, and the name looked up again.</param>
/// <param name="HeaderKibibytes">So long the headers of an answer may be.</param>
/// <param name="AnswerBytes">So much of an answer is read; what follows is left unread.</param>
/// <param name="KeptBytes">So much of it is kept with the attempt.</param>
/// <param name="Connections">So many connections to one host.</param>
internal sealed record SendingLimits(
    TimeSpan Connect,
    TimeSpan Total,
    TimeSpan ConnectionLife,
    int HeaderKibibytes,
    int AnswerBytes,
    int KeptBytes,
    int Connections)
{
    /// <summary>A receiver has 20 seconds: Standard Webhooks 1.0.0 asks for 15 to 30.</summary>
    public static readonly SendingLimits Usual = new(
        TimeSpan.FromSeconds(5), TimeSpan.FromSeconds(20), TimeSpan.FromMinutes(2), 16, 64 * 1024, 1024, 4);
}
