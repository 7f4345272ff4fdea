using System.Runtime.InteropServices;

namespace Releasekit.Benchmarks;

/// <summary>Ctrl-C and SIGTERM: services are stopped and folders deleted before the program ends.</summary>
internal static class Interruption
{
    private const int ExitCode = 130;
    private static volatile bool _isRunning;

    /// <summary>Runs the work; once interrupted, whatever the work comes to is of no interest any more.</summary>
    public static async Task<int> Around(Func<Task<int>> work)
    {
        using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, LeaveNothing);
        using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, LeaveNothing);

        try
        {
            return await work();
        }
        finally
        {
            if (_isRunning)
            {
                await Task.Delay(Timeout.Infinite);
            }
        }
    }

    /// <summary>Before something is begun that would have to be ended.</summary>
    public static void RefuseNew()
    {
        if (_isRunning)
        {
            throw new OperationCanceledException();
        }
    }

    private static void LeaveNothing(PosixSignalContext context)
    {
        context.Cancel = true;
        _isRunning = true;
        RunningService.StopAll().Wait();
        BenchFolder.DeleteAll();
        Environment.Exit(ExitCode);
    }
}
