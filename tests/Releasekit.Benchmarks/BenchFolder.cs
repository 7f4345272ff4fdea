using System.Collections.Concurrent;

namespace Releasekit.Benchmarks;

/// <summary>A data folder for one measurement; gone when it is over, also by a failure or Ctrl-C.</summary>
internal sealed class BenchFolder : IDisposable
{
    private static readonly ConcurrentDictionary<BenchFolder, bool> Living = new();

    public BenchFolder() => Living.TryAdd(this, true);

    public string Path { get; } = Directory.CreateTempSubdirectory("releasekit-bench-").FullName;

    public static void DeleteAll()
    {
        foreach (var folder in Living.Keys)
        {
            folder.Dispose();
        }
    }

    public void Dispose()
    {
        if (Living.TryRemove(this, out _) && Directory.Exists(Path))
        {
            Directory.Delete(Path, recursive: true);
        }
    }
}
