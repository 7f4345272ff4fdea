namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>
/// Random numbers that are the same for a seed for ever, which the runtime's own do not promise (Steele, Lea and
/// Flood 2014).
/// </summary>
/// <param name="seed">Where the stream begins.</param>
public sealed class SplitMix64(ulong seed)
{
    /// <summary>By how much the state grows with each number.</summary>
    internal const ulong Step = 0x9E3779B97F4A7C15;

    private ulong _state = seed;

    /// <summary>The next number, any of 2^64 equally likely.</summary>
    public ulong Next() => Mixed(_state = unchecked(_state + Step));

    /// <summary>From zero, below <paramref name="limit"/>; the bias is below limit / 2^64.</summary>
    public int Below(int limit) => (int)Math.BigMul(Next(), (ulong)limit, out _);

    /// <summary>The number of a state.</summary>
    internal static ulong Mixed(ulong state)
    {
        unchecked
        {
            var mixed = (state ^ (state >> 30)) * 0xBF58476D1CE4E5B9;
            mixed = (mixed ^ (mixed >> 27)) * 0x94D049BB133111EB;
            return mixed ^ (mixed >> 31);
        }
    }
}
