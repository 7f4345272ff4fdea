using Releasekit.Client;
using Releasekit.Client.Plans;

namespace Releasekit.Benchmarks;

/// <summary>A series with many planned releases, brought in as a user would: by a CSV file.</summary>
internal static class Workload
{
    public const string Series = "bench";
    public static readonly string[] Stages =
        ["outline", "record", "cut", "mix", "notes", "publish", "announce", "letter"];

    public static async Task<ReleasekitClient> GivenASeries(RunningService service)
    {
        var client = service.Connect();
        await client.StagePlans.Create(
            new("bench", [.. Stages.Select(key => new PlannedStage(key, Publication: key == "publish"))])).Value();
        await client.Series.Open(
            new(
                Series, "Bench", "bench",
                new("FREQ=WEEKLY;BYDAY=TH", new(7, 0), "Europe/Lisbon", new LocalDate(2017, 1, 5)))).Value();
        return client;
    }

    /// <summary>Imports a file and waits; how long that took.</summary>
    public static async Task<TimeSpan> Import(ReleasekitClient client, string csv, string series = Series)
    {
        var began = TimeProvider.System.GetTimestamp();
        var run = await client.Imports.Start(
            new StringContent(csv, new System.Text.UTF8Encoding(false), "text/csv"), series).Value();

        while (!run.IsOver)
        {
            await Task.Delay(50);
            run = await client.Imports.Get(run.Id).Value();
        }

        return run.ErrorCount == 0
            ? TimeProvider.System.GetElapsedTime(began)
            : throw new InvalidOperationException(run.Errors[0].Reason);
    }

    public static async Task<List<Guid>> Releases(ReleasekitClient client, int count)
    {
        await Import(
            client,
            $"external_id,title\n{string.Concat(Enumerable.Range(0, count).Select(i => $"b{i},Release {i}\n"))}");
        var ids = new List<Guid>();
        string? cursor = null;

        do
        {
            var page = await client.Releases.List(limit: 200, cursor: cursor).Value();
            ids.AddRange(page.Items.Select(release => release.Id));
            cursor = page.Next;
        }
        while (cursor is not null);

        return ids;
    }
}
