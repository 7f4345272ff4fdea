namespace Releasekit.Server.Http;

/// <summary>What the service still has to do before anyone may rely on it.</summary>
internal sealed class Readiness
{
    private volatile string? _waitsFor;

    /// <summary>One sentence for whoever asks; null when nothing is in the way.</summary>
    public string? WaitsFor
    {
        get => _waitsFor;
        set => _waitsFor = value;
    }
}
