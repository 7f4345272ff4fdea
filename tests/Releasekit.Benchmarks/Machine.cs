using System.Globalization;
using Npgsql;

namespace Releasekit.Benchmarks;

/// <summary>What the figures were measured on, and how they are written.</summary>
internal static class Machine
{
    /// <summary>The database is asked, as it really runs under the service.</summary>
    public static async Task Describe()
    {
        CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var load = (await File.ReadAllTextAsync("/proc/loadavg")).Split(' ')[0];
        await using var service = await RunningService.Start();
        var settings = new List<string>();

        foreach (var name in new[] { "server_version", "fsync", "synchronous_commit", "wal_sync_method" })
        {
            settings.Add($"{name} {await Setting(service, name)}");
        }

        Say($"{Environment.ProcessorCount} cores, .NET {Environment.Version}, load {load} at the start; "
            + $"PostgreSQL: {string.Join(", ", settings)}");
    }

    public static void Say(string line) => Console.WriteLine(line);

    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }

    /// <summary>The median, and between which values the repetitions lie.</summary>
    /// <param name="format">Of the numbers, such as <c>0.0</c>.</param>
    public static string Spread(IReadOnlyCollection<double> values, string format)
    {
        var (middle, least, most) = (Median(values), values.Min(), values.Max());
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{middle.ToString(format, CultureInfo.InvariantCulture)} "
            + $"({least.ToString(format, CultureInfo.InvariantCulture)} to "
            + $"{most.ToString(format, CultureInfo.InvariantCulture)})");
    }

    private static async Task<string> Setting(RunningService service, string name)
    {
        await using var connection = new NpgsqlConnection(
            $"Host={service.Socket};Database=releasekit;Username={Environment.UserName};Pooling=false");
        await connection.OpenAsync();
        await using var show = new NpgsqlCommand($"show {name}", connection);
        return (string)(await show.ExecuteScalarAsync())!;
    }
}
