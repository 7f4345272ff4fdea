namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// A clock that goes the slower the more is under way: each moment is divided among all that is, so that what each got
/// sums up to the time in which anything was.
/// </summary>
internal sealed class SharedClock
{
    private readonly Dictionary<Instant, double> _got = [];

    /// <param name="spells">When something was under way, from included, to excluded.</param>
    /// <param name="lengthOf">How long the time between two instants counts.</param>
    public SharedClock(IEnumerable<(Instant From, Instant To)> spells, Func<Instant, Instant, double> lengthOf)
    {
        var (under, got, before) = (0, 0.0, Instant.MinValue);
        var boundaries = spells.SelectMany(spell => new[] { (At: spell.From, Change: 1), (At: spell.To, Change: -1) });

        foreach (var (at, change) in boundaries.OrderBy(boundary => boundary.At))
        {
            if (under > 0 && at > before)
            {
                got += lengthOf(before, at) / under;
            }

            (_got[at], before, under) = (got, at, under + change);
        }
    }

    /// <summary>What one of the spells got.</summary>
    public double Between(Instant from, Instant to) => _got[to] - _got[from];
}
