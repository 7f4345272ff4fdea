using Releasekit.Server.Cluster;

namespace Releasekit.Server.Tests;

/// <summary>A new folder under the temp folder, for this user alone (0700), that goes with the test.</summary>
internal sealed class TempFolder : IAsyncDisposable
{
    private TempFolder(string path) => Path = path;

    public string Path { get; }

    public static TempFolder Make() => new(Directory.CreateTempSubdirectory("releasekit-").FullName);

    public ValueTask DisposeAsync()
    {
        if (Directory.Exists(Path))
        {
            if (Posix.Look(Path)?.User == Posix.User)
            {
                File.SetUnixFileMode(Path, UnixFileMode.UserRead | UnixFileMode.UserWrite | UnixFileMode.UserExecute);
            }

            Directory.Delete(Path, recursive: true);
        }

        return ValueTask.CompletedTask;
    }
}
