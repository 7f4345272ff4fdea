namespace Releasekit.Server.Jobs;

/// <summary>Something that is done again and again, in whichever process of the service has the time for it.</summary>
/// <param name="Name">What it is called in the store and in GET /v1/jobs.</param>
/// <param name="What">What it does, in a sentence.</param>
/// <param name="Every">How often, on the service's clock; null: at times of its own.</param>
/// <param name="Run">Does it; for the publisher named, where it is done for one.</param>
internal sealed record Job(
    string Name, string What, Duration? Every, Func<IServiceProvider, string?, CancellationToken, Task> Run)
{
    /// <summary>When it runs, in words.</summary>
    public string Schedule => Every is { } every
        ? $"every {Domain.Sheets.SheetWording.Of(every)}"
        : "each morning at the time the publisher wants to be reminded";
}
