using System.Runtime.InteropServices;

namespace Releasekit.Server.Startup;

/// <summary>SIGTERM and SIGINT from the first moment on, also while the database is still being made.</summary>
internal sealed class StopSignals : IDisposable
{
    private readonly CancellationTokenSource _source = new();
    private readonly TaskCompletionSource _asked = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly PosixSignalRegistration[] _registrations;

    public StopSignals()
    {
        _registrations =
        [
            PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop),
            PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop),
        ];
    }

    public CancellationToken Token => _source.Token;

    /// <summary>Completes when a stop was asked for.</summary>
    public Task Asked => _asked.Task;

    public void Dispose()
    {
        foreach (var registration in _registrations)
        {
            registration.Dispose();
        }

        _source.Dispose();
    }

    private void Stop(PosixSignalContext context)
    {
        context.Cancel = true;
        _source.Cancel();
        _asked.TrySetResult();
    }
}

/// <summary>
/// Leaves signals to <see cref="StopSignals"/>: two who hear the same one would race for what the stop is told as.
/// </summary>
internal sealed class StoppedFromOutside : IHostLifetime
{
    public Task WaitForStartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

    public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
}
