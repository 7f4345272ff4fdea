using Releasekit.Client;
using Releasekit.Client.Plans;
using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;

namespace Releasekit.Server.Tests;

/// <summary>
/// Fixed things to begin a test with: the audio series of the invented scenario, every Thursday 07:00 in Lisbon.
/// </summary>
internal static class Scenario
{
    public const string Series = "mudflat-weekly";
    public static readonly Instant LongAgo = Instant.FromUtc(2026, 1, 15, 9, 0);

    public static readonly PlannedStage[] Stages =
    [
        new("outline", "Outline", Effort: Duration.FromHours(2)),
        new("record", "Field recording", Checklist: ["Tide times checked", "batteries charged"]),
        new("mix", "Final mix"),
        new("publish", "Publish", Publication: true),
        new("announce", "Announce", Within: Duration.FromHours(12)),
        new("letter", "Reader letter", After: ["publish"], Within: Duration.FromHours(48)),
    ];

    /// <summary>A series that began in January 2026.</summary>
    public static async Task<Series> GivenASeries(
        this ReleasekitClient client, string id = Series, string rrule = "FREQ=WEEKLY;BYDAY=TH")
    {
        await client.StagePlans.Create(new("audio", Stages, "Audio"));

        return await client.Series
            .Open(new(id, "Mudflat Weekly", "audio", new(rrule, new(7, 0), "Europe/Lisbon", new LocalDate(2026, 1, 1))))
            .Value();
    }

    /// <summary>A release planned long ago, for the slot of 5 March 2026 unless another is named.</summary>
    public static Task<Release> GivenARelease(
        this ReleasekitClient client, string title = "No. 12", LocalDate? slot = null) =>
        client.Releases.Plan(new(Series, title, slot ?? new LocalDate(2026, 3, 5), LongAgo)).Value();

    public static Task<Release> Record(
        this ReleasekitClient client, Release release, string stage, StageState to, Instant? at = null,
        string? note = null) =>
        client.Releases.Record(release.Id, new(stage, to, at, note)).Value();

    /// <summary>The problem of an answer that should be one.</summary>
    public static async Task<ReleasekitProblem> Problem<T>(this Task<Refit.IApiResponse<T>> call)
    {
        var answer = await call;
        Assert.False(answer.IsSuccessStatusCode);
        return answer.Problem();
    }
}
