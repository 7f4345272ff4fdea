using System.Diagnostics;
using System.Text.Json;
using Releasekit.Domain.Planning.Sequencing;

namespace Releasekit.Benchmarks;

/// <summary>
/// The local search on the 40-job instances of the OR-Library (wt40) that stand in the check values, beside the rule of
/// thumb that takes what is light for its length last; with what each reaches and the listed optimum.
/// </summary>
internal static class SequencingBenchmark
{
    private const int Rounds = 25;

    public static Task Run()
    {
        using var checks = JsonDocument.Parse(File.ReadAllText(RunningService.Named("RELEASEKIT_CHECKS")));
        var instances = checks.RootElement.EnumerateArray()
            .Where(check => check.GetProperty("id").GetString()!.StartsWith("j.wt40.", StringComparison.Ordinal));

        foreach (var instance in instances)
        {
            var pieces = Pieces(instance.GetProperty("inputs"));
            var optimum = instance.GetProperty("expected").GetProperty("optimum").GetInt64();
            Sequence found = null!, rule = null!;
            var search = Times(() => found = TardinessSearch.Order(pieces, seed: 1));
            var simple = Times(() => rule = new([.. pieces.OrderBy(piece => (double)piece.Length / piece.Weight)]));

            Machine.Say(
                $"{instance.GetProperty("id").GetString()}: local search {Machine.Spread(search, "0.0")} ms, "
                + $"weighted tardiness {found.WeightedTardiness} (optimum {optimum})   "
                + $"by weight for length: {Machine.Spread(simple, "0.000")} ms, {rule.WeightedTardiness}");
        }

        return Task.CompletedTask;
    }

    private static Piece[] Pieces(JsonElement inputs)
    {
        long[] Numbers(string name) => [.. inputs.GetProperty(name).EnumerateArray().Select(one => one.GetInt64())];
        var (lengths, dues, weights) = (Numbers("p"), Numbers("d"), Numbers("w"));

        return [.. lengths.Select((length, i) => new Piece($"{i + 1}", length, dues[i], weights[i]))];
    }

    private static List<double> Times(Action run)
    {
        var times = new List<double>();
        run();

        for (var i = 0; i < Rounds; i++)
        {
            var watch = Stopwatch.StartNew();
            run();
            times.Add(watch.Elapsed.TotalMilliseconds);
        }

        return times;
    }
}
