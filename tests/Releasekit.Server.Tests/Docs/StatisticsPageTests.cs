using System.Globalization;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Docs;
using Releasekit.Server.Learning;

namespace Releasekit.Server.Tests.Docs;

/// <summary>
/// The numbers on /docs/statistics are those the demo answers with, read anew from a demo of the day that the page
/// names. Set RELEASEKIT_ACCEPT=1 to write them.
/// </summary>
public class StatisticsPageTests(Service service)
{
    private const string Series = "/v1/series/mudflat-weekly";
    private static readonly JsonSerializerOptions Written = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    [Fact]
    public async Task The_numbers_of_the_page_are_the_demos()
    {
        await using var folder = TempFolder.Make();
        using var demo = await KillableService.Start(
            folder.Path, await service.Postgres.CreateDatabaseAsync(), token: null,
            (KillableService.Demo, "1"), ("Clock__Start", "2026-11-25T10:47:00Z"));
        using var http = service.ClientWith(demo.Token);
        http.BaseAddress = new Uri(demo.Address);

        var numbers = await Read(http);
        var text = JsonSerializer.Serialize(numbers, Written);

        var kept = Source("src/Releasekit.Server/Docs/demo-numbers.json");

        if (Environment.GetEnvironmentVariable("RELEASEKIT_ACCEPT") == "1")
        {
            await File.WriteAllTextAsync(kept, $"{text}\n");
        }

        Assert.Equal(text, (await File.ReadAllTextAsync(kept)).Trim());
        Assert.Equal(ShowStatistics.Used.Order(), numbers.Keys.Order());
    }

    [Fact]
    public async Task Every_figure_is_explained_with_numbers_and_sources()
    {
        using var http = service.ClientWith(null);

        var page = await http.GetStringAsync(
            new Uri("/docs/statistics", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(StatisticsTexts.All.Length, page.Split("<h2").Length - 1);
        Assert.DoesNotContain("{due}", page, StringComparison.Ordinal);
        Assert.All(StatisticsTexts.All, figure => Assert.NotEmpty(figure.Sources));
    }

    private static async Task<SortedDictionary<string, string>> Read(HttpClient http) => new(
        new[]
        {
            await OfCadence(http), await OfFlow(http), await OfChart(http), await OfForecast(http),
            await OfCalibration(http), await OfBank(http), await OfTimeliness(http),
        }.SelectMany(numbers => numbers).ToDictionary(number => number.Key, number => number.Value),
        StringComparer.Ordinal);

    private static async Task<Dictionary<string, string>> OfCadence(HttpClient http)
    {
        var cadence = await Ask(http, $"{Series}/cadence");

        return new()
        {
            ["due"] = Whole(cadence["due"]),
            ["onTime"] = Whole(cadence["onTime"]),
            ["onTimeRate"] = Percent(cadence["onTimeRate"]!["value"]),
            ["onTimeLow"] = Percent(cadence["onTimeRate"]!["low"]),
            ["onTimeHigh"] = Percent(cadence["onTimeRate"]!["high"]),
            ["late50"] = Of(cadence["latenessHours"]!["p50"], "0.0", "hours"),
            ["late95"] = Of(cadence["latenessHours"]!["p95"], "0", "hours"),
            ["streak"] = Whole(cadence["currentStreak"]),
            ["longest"] = Whole(cadence["longestStreak"]),
            ["gapCv"] = Of(cadence["gaps"]!["cv"], "0.00", ""),
            ["drift"] = Of(cadence["drift"]!["hoursPerSlot"], "0.00", "hours"),
        };
    }

    private static async Task<Dictionary<string, string>> OfFlow(HttpClient http)
    {
        var flow = (await Ask(http, $"{Series}/flow"))["figures"]!;

        return new()
        {
            ["finished"] = Whole(flow["finished"]),
            ["cycle50"] = Of(PercentileOf(flow["cycle"], 50), "0.0", "days"),
            ["cycle85"] = Of(PercentileOf(flow["cycle"], 85), "0.0", "days"),
            ["lead50"] = Of(PercentileOf(flow["lead"], 50), "0.0", "days"),
            ["wip"] = Of(flow["little"]!["workInProgress"], "0.0", ""),
            ["throughput"] = Of(flow["throughputPerWeek"]!["value"], "0.00", ""),
            ["gap"] = Of(flow["little"]!["gap"], "0.00", "releases"),
            ["efficiency"] = flow["flowEfficiency"]!["value"] is { } share ? Percent(share) : "not known",
            ["efficiencyN"] = Whole(flow["flowEfficiency"]!["n"]),
        };
    }

    private static async Task<Dictionary<string, string>> OfChart(HttpClient http)
    {
        var chart = (await Ask(http, $"{Series}/chart"))["chart"]!;
        var phase = chart["phases"]!.AsArray().Last(one => (int)one!["count"]! > 0)!["limits"]!;

        return new()
        {
            ["chartMean"] = Of(phase["mean"], "0.0", "days"),
            ["chartUpper"] = Of(phase["upper"], "0.0", "days"),
            ["signals"] = Whole(JsonValue.Create(chart["signals"]!.AsArray().Count)),
            ["baseline"] = Whole(phase["n"]),
        };
    }

    private static async Task<Dictionary<string, string>> OfForecast(HttpClient http)
    {
        var forecast = await Ask(http, $"{Series}/forecast");
        var open = forecast["releases"]!.AsArray().First(one => (double)one!["finish"]![0]!["workingHours"]! > 0)!;

        return new()
        {
            ["says"] = (string)open["says"]!,
            ["nonstop"] = $"ready by {((string)PercentileAt(open["nonstop"]!["finish"], 85)["at"]!)[..10]} with 85 %",
            ["startsTaken"] = Whole(open["startsTaken"]),
            ["past"] = Whole(open["past"]),
        };
    }

    private static async Task<Dictionary<string, string>> OfCalibration(HttpClient http)
    {
        var week = (await Ask(http, $"{Series}/calibration"))["byLead"]![2]!;

        return new()
        {
            ["told7"] = Percent(JsonValue.Create(MeanTold(week["met"]!))),
            ["came7"] = Whole(JsonValue.Create(
                (int)Math.Round((double)week["met"]!["rate"]! * (int)week["met"]!["n"]!))),
            ["n7"] = Whole(week["met"]!["n"]),
            ["uncertainty7"] = Of(week["met"]!["uncertainty"], "0.000", ""),
            ["score7"] = Of(week["met"]!["score"], "0.000", ""),
            ["hit85"] = Percent(PercentileAt(week["dates"], 85)["hit"]!["value"]),
            ["hit50"] = Percent(PercentileAt(week["dates"], 50)["hit"]!["value"]),
        };
    }

    private static async Task<Dictionary<string, string>> OfBank(HttpClient http)
    {
        var bank = await Ask(http, $"{Series}/bank");

        return new()
        {
            ["bankSays"] = (string)bank["says"]!,
            ["work50"] = Of(PercentileOf(bank["work"], 50), "0.0", "days"),
            ["slotDays"] = Whole(bank["slotDays"]),
            ["load"] = Percent(bank["load"]),
            ["lostNeeded"] = Whole(bank["lost"]!["needed"]),
        };
    }

    private static async Task<Dictionary<string, string>> OfTimeliness(HttpClient http)
    {
        var recording = (await Ask(http, "/v1/projects/timeliness"))["stages"]!.AsArray()
            .First(stage => (string)stage!["stage"]! == "field-recording")!["figures"]!;

        return new()
        {
            ["exact"] = Percent(recording["exact"]!["value"]),
            ["under"] = Percent(recording["atOrUnder"]!["value"]),
            ["ratio"] = Percent(recording["medianRatio"]),
        };
    }

    private static double MeanTold(JsonNode met) => met["table"]!.AsArray().Sum(
        row => (double)row!["meanForecast"]! * (int)row["observed"]!["n"]!) / (int)met["n"]!;

    private static JsonNode? PercentileOf(JsonNode? spread, int percent) =>
        PercentileAt(spread!["percentiles"], percent)["estimate"]!["value"];

    private static JsonNode PercentileAt(JsonNode? list, int percent) =>
        list!.AsArray().First(one => (int)one!["percent"]! == percent)!;

    private static string Whole(JsonNode? value) => ((int)value!).ToString(CultureInfo.InvariantCulture);

    private static string Percent(JsonNode? share) => ForecastWording.Percent((double)share!);

    private static string Of(JsonNode? value, string format, string unit) =>
        $"{((double)value!).ToString(format, CultureInfo.InvariantCulture)} {unit}".TrimEnd();

    private static async Task<JsonNode> Ask(HttpClient http, string address) =>
        JsonNode.Parse(await http.GetStringAsync(new Uri(address, UriKind.Relative)))!;

    private static string Source(string path)
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);

        while (!File.Exists(Path.Combine(folder.FullName, "Releasekit.sln")))
        {
            folder = folder.Parent!;
        }

        return Path.Combine(folder.FullName, path);
    }
}
