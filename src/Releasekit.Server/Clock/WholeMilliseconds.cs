namespace Releasekit.Server.Clock;

/// <summary>Instants as they are kept: what is stored, shown and compared is the same one.</summary>
internal static class WholeMilliseconds
{
    /// <summary>The instant without what it has beyond its milliseconds.</summary>
    public static Instant Cut(this Instant instant) =>
        Instant.FromUnixTimeMilliseconds(instant.ToUnixTimeMilliseconds());
}
