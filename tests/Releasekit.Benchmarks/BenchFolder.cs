using System.Collections.Concurrent;

namespace Releasekit.Benchmarks;

/// <summary>A data folder for one measurement; gone when it is over, also by a failure or Ctrl-C.</summary>
internal sealed class BenchFolder : IDisposable
{
    private const int MostAttempts = 100;
    private static readonly ConcurrentDictionary<BenchFolder, bool> Living = new();

    public BenchFolder() => Living.TryAdd(this, true);

    public string Path { get; } = Directory.CreateTempSubdirectory("releasekit-bench-").FullName;

    public static void DeleteAll()
    {
        foreach (var folder in Living.Keys)
        {
            folder.Delete();
        }
    }

    public void Dispose()
    {
        Interruption.RefuseNew();
        Delete();
    }

    private void Delete()
    {
        // The database of a killed service goes on writing for a moment.
        for (var attempt = 1; Directory.Exists(Path); attempt++)
        {
            try
            {
                Directory.Delete(Path, recursive: true);
            }
            catch (IOException) when (attempt < MostAttempts)
            {
                Thread.Sleep(100);
            }
        }

        Living.TryRemove(this, out _);
    }
}
