using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Benchmarks;

/// <summary>
/// Ten thousand trials of twelve releases of nine stages, with the probability of each slot and four percentiles of
/// each release, beside the same in vectorised NumPy; the two must agree.
/// </summary>
internal static class ForecastBenchmark
{
    private const int Releases = 12;
    private const int Stages = 9;
    private const int Past = 50;
    private const int Rounds = 40;

    /// <summary>Until the runtime has compiled for good, as it has in a service that runs; NumPy is compiled.</summary>
    private const int WarmUp = 800;

    private static readonly Instant Now = Instant.FromUtc(2026, 3, 2, 0, 0);

    /// <summary>Every hour is a working hour, as NumPy knows no calendar: hours are hours on both sides.</summary>
    private static readonly WorkingCalendar AllHours = new(
        Enumerable.Range(1, 7).Select(day => new WorkingHours(
            (IsoDayOfWeek)day, LocalTime.Midnight, LocalTime.Midnight)),
        [], [], DateTimeZone.Utc);

    public static async Task Run()
    {
        var reference = await Reference();

        Compare("whole past releases", WorkLaw.OfPast(PastRows()), reference.GetProperty("whole"));
        Compare("each stage by itself", WorkLaw.OfStages(Keys, ByStage()), reference.GetProperty("apart"));
    }

    private static void Compare(string what, WorkLaw law, JsonElement reference)
    {
        var model = TrialModel.Of(law, Open());
        WorkForecast forecast = null!;
        var one = Times(() => forecast = WorkForecast.Simulate(model, AllHours, Now, seed: 1));
        var times = Times(() => forecast = WorkForecast.Simulate(
            model, AllHours, Now, seed: 1, run: (parts, part) => Parallel.For(0, parts, part)));
        double[] theirs = [.. reference.GetProperty("ms").EnumerateArray().Select(one => one.GetDouble())];
        var apart = forecast.Releases.Zip(
            reference.GetProperty("met").EnumerateArray(), (told, met) => Math.Abs(told.Met!.Value - met.GetDouble()))
            .Max();

        Machine.Say(
            $"10,000 trials x {Releases} releases x {Stages} stages, {what}: {Machine.Spread(times, "0.00")} ms, "
            + $"on one core {Machine.Spread(one, "0.00")} ms   NumPy: {Machine.Spread([.. theirs], "0.00")} ms   ratio "
            + $"{Median(theirs) / Median([.. times]):0.0} (target 5)   probabilities apart by {apart:0.000} at most");
    }

    private static string[] Keys => [.. Enumerable.Range(0, Stages).Select(stage => $"stage-{stage}")];

    private static double Hours(int row, int stage) => 1 + (((7 * row) + (3 * stage)) % 11 / 4.0);

    private static PastWork PastRows() => new(
        Keys,
        [
            .. Enumerable.Range(0, Past).Select(row =>
                (IReadOnlyList<double>)[.. Enumerable.Range(0, Stages).Select(stage => Hours(row, stage))]),
        ],
        LeftOut: 0);

    private static IReadOnlyList<double>[] ByStage() =>
    [
        .. Enumerable.Range(0, Stages).Select(stage =>
            (IReadOnlyList<double>)[.. Enumerable.Range(0, Past).Select(row => Hours(row, stage))]),
    ];

    private static IEnumerable<OpenRelease> Open()
    {
        var mean = Enumerable.Range(0, Past).Average(
            row => Enumerable.Range(0, Stages).Sum(stage => Hours(row, stage)));

        return Enumerable.Range(0, Releases).Select(release => new OpenRelease(
            new Guid(release, 0, 0, new byte[8]), Now + Duration.FromHours((release + 1) * mean),
            [.. Keys.Select((key, i) => new StageAhead(key, 0, i == 0 ? [] : [Keys[i - 1]]))]));
    }

    private static List<double> Times(Action run)
    {
        for (var i = 0; i < WarmUp; i++)
        {
            run();
        }

        var times = new List<double>();

        for (var i = 0; i < Rounds; i++)
        {
            var watch = Stopwatch.StartNew();
            run();
            times.Add(watch.Elapsed.TotalMilliseconds);
        }

        return times;
    }

    private static double Median(double[] values) => values.Order().ElementAt(values.Length / 2);

    private static async Task<JsonElement> Reference()
    {
        string[] arguments =
        [
            RunningService.Named("RELEASEKIT_NUMPY"),
            .. new[] { WorkForecast.UsualTrials, Releases, Stages, Past, Rounds }
                .Select(number => number.ToString(CultureInfo.InvariantCulture)),
        ];
        using var process = Process.Start(
            new ProcessStartInfo("/usr/bin/python3", arguments) { RedirectStandardOutput = true })!;
        var answer = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();

        return process.ExitCode == 0
            ? JsonDocument.Parse(answer).RootElement
            : throw new InvalidOperationException("The reference needs python3-numpy.");
    }
}
