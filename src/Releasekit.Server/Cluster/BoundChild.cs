using System.Collections;
using System.Diagnostics;
using System.Text;

namespace Releasekit.Server.Cluster;

/// <summary>
/// A child process that is interrupted when this process dies, however it dies. The kernel ties that signal to the
/// thread that forked, so each child has a thread of its own that lives as long as the child.
/// </summary>
internal sealed class BoundChild
{
    private readonly TaskCompletionSource<int> _started = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly TaskCompletionSource<int> _exited = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly StringBuilder _said = new();

    private BoundChild(ProcessStartInfo start)
    {
        var thread = new Thread(() => Live(start)) { IsBackground = true, Name = start.FileName };
        thread.Start();
    }

    /// <summary>What the child wrote to its error stream, whole lines.</summary>
    public string Said
    {
        get
        {
            lock (_said)
            {
                return _said.ToString();
            }
        }
    }

    public int Id { get; private set; }

    /// <summary>Completes with the exit code.</summary>
    public Task<int> Exited => _exited.Task;

    public static async Task<BoundChild> Start(ServerAccount account, string program, IEnumerable<string> arguments)
    {
        List<string> words = [.. account.Prefix(), program, .. arguments];
        var start = new ProcessStartInfo(words[0], words.Skip(1))
        {
            WorkingDirectory = "/", // the caller's folder may be closed to the account
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        // PG… would configure the server behind our back, and readiness is ours to tell the service supervisor.
        foreach (var name in Environment.GetEnvironmentVariables().Cast<DictionaryEntry>().Select(e => (string)e.Key)
            .Where(name => name.StartsWith("PG", StringComparison.Ordinal) || name is "NOTIFY_SOCKET"))
        {
            start.Environment.Remove(name);
        }

        start.Environment["LC_ALL"] = "C";
        var child = new BoundChild(start);
        child.Id = await child._started.Task;
        return child;
    }

    private void Live(ProcessStartInfo start)
    {
        using var process = new Process { StartInfo = start };
        using var heard = new ManualResetEventSlim();
        process.OutputDataReceived += (_, _) => { };
        process.ErrorDataReceived += (_, line) => Hear(line.Data, heard);
        try
        {
            process.Start();
        }
        catch (Exception failure)
        {
            _started.SetException(failure);
            return;
        }

        process.StandardInput.Close();
        process.BeginOutputReadLine();
        process.BeginErrorReadLine();
        _started.SetResult(process.Id);
        // An endless wait would also wait for grandchildren that hold the error stream.
        while (!process.WaitForExit(TimeSpan.FromDays(1)))
        {
        }

        heard.Wait(TimeSpan.FromSeconds(1));
        _exited.SetResult(process.ExitCode);
    }

    private void Hear(string? line, ManualResetEventSlim heard)
    {
        lock (_said)
        {
            if (line is not null)
            {
                _said.AppendLine(line);
                return;
            }
        }

        try
        {
            heard.Set();
        }
        catch (ObjectDisposedException)
        {
            // The stream closed long after the child: a grandchild had held it.
        }
    }
}
