using System.Collections.Concurrent;
using System.Net;

namespace Releasekit.Server.Access;

/// <summary>Slows down whoever guesses tokens: so many wrong ones a minute and address, no more.</summary>
internal sealed class FailedTokens(TimeProvider machine)
{
    private const int MostPerMinute = 20;
    private const int MostAddresses = 10_000;

    private readonly ConcurrentDictionary<IPAddress, (long Minute, int Count)> _failures = new();

    /// <summary>Counts a wrong token; the seconds to wait when there were too many of them this minute.</summary>
    public int? Count(IPAddress? address)
    {
        var now = machine.GetUtcNow().ToUnixTimeSeconds();
        var minute = now / 60;

        if (_failures.Count > MostAddresses)
        {
            _failures.Clear();
        }

        var (_, count) = _failures.AddOrUpdate(
            address ?? IPAddress.None,
            _ => (minute, 1),
            (_, seen) => seen.Minute == minute ? (minute, seen.Count + 1) : (minute, 1));

        return count > MostPerMinute ? (int)(((minute + 1) * 60) - now) : null;
    }
}
