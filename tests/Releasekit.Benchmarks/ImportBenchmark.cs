using System.Text;

namespace Releasekit.Benchmarks;

/// <summary>Rows a second of an import of 100,000 releases, from upload to done, and the memory it takes.</summary>
internal static class ImportBenchmark
{
    private const int Rows = 100_000;

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = await Workload.GivenASeries(service);
        var csv = new StringBuilder("external_id,title,outline_completed_at,published_at\n");

        for (var i = 0; i < Rows; i++)
        {
            var at = Instant.FromUtc(1990, 1, 1, 0, 0) + Duration.FromHours(3 * i);
            csv.Append(
                System.Globalization.CultureInfo.InvariantCulture,
                $"i{i},Release {i},{at},{at + Duration.FromHours(2)}\n");
        }

        var before = service.Memory();
        var took = await Workload.Import(client, csv.ToString());
        var after = service.Memory();

        Machine.Say(
            $"import of {Rows} rows: {Rows / took.TotalSeconds:0} rows/s ({took.TotalSeconds:0.0} s); "
            + $"memory of the service {before.Service:0} MiB before, {after.Service:0} MiB after");
    }
}
