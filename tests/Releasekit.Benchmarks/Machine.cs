using System.Globalization;

namespace Releasekit.Benchmarks;

/// <summary>What the figures were measured on, and how they are written.</summary>
internal static class Machine
{
    public static void Describe()
    {
        CultureInfo.DefaultThreadCurrentCulture = CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
        var load = File.ReadAllText("/proc/loadavg").Split(' ')[0];
        Say($"{Environment.ProcessorCount} cores, .NET {Environment.Version}, load {load} at the start");
    }

    public static void Say(string line) => Console.WriteLine(line);

    public static double Median(IEnumerable<double> values)
    {
        var sorted = values.Order().ToArray();
        return (sorted[(sorted.Length - 1) / 2] + sorted[sorted.Length / 2]) / 2;
    }
}
