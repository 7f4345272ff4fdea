namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// Random numbers that are the same for a seed for ever, which the runtime's own do not promise (Steele, Lea and
/// Flood 2014).
/// </summary>
internal sealed class SplitMix64(ulong seed)
{
    private ulong _state = seed;

    public ulong Next()
    {
        unchecked
        {
            _state += 0x9E3779B97F4A7C15;
            var mixed = (_state ^ (_state >> 30)) * 0xBF58476D1CE4E5B9;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
            return mixed ^ (mixed >> 31);
        }
    }

    /// <summary>From zero, below <paramref name="limit"/>; the bias is below limit / 2^64.</summary>
    public int Below(int limit) => (int)Math.BigMul(Next(), (ulong)limit, out _);
}
