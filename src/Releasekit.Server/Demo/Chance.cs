namespace Releasekit.Server.Demo;

/// <summary>
/// A small generator of our own, so that the same seed tells the same story with every runtime: SplitMix64 (Steele, Lea
/// and
/// Flood 2014; constants from memory).
/// </summary>
internal sealed class Chance(ulong seed)
{
    private ulong _state = seed;

    /// <summary>A whole number from 0 to <paramref name="below"/>, excluded.</summary>
    public int Below(int below) => (int)(Next() % (ulong)below);

    /// <summary>So many minutes, from <paramref name="from"/> to <paramref name="to"/>, included.</summary>
    public Duration Minutes(int from, int to) => Duration.FromMinutes(from + Below(to - from + 1));

    internal ulong Next()
    {
        _state += 0x9E3779B97F4A7C15;
        var mixed = _state;
        mixed = (mixed ^ (mixed >> 30)) * 0xBF58476D1CE4E5B9;
        mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
        return mixed ^ (mixed >> 31);
    }
}
