using System.Collections.Concurrent;

namespace Releasekit.Benchmarks.Crash;

/// <summary>What should not have been, in whole words.</summary>
internal sealed class Faults
{
    private const int Told = 10;

    private readonly ConcurrentQueue<string> _all = [];

    public void Add(string fault) => _all.Enqueue(fault);

    /// <summary>Names the first of them; the exit code.</summary>
    public int Tell()
    {
        foreach (var fault in _all.Take(Told))
        {
            Machine.Say($"FAULT: {fault}");
        }

        Machine.Say(_all.IsEmpty ? "no fault" : $"{_all.Count} faults");
        return _all.IsEmpty ? 0 : 1;
    }
}
