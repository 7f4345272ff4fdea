using System.Diagnostics;
using System.Text.Json;
using NodaTime.Text;
using Releasekit.Client;
using Releasekit.Client.Imports;
using Releasekit.Client.Learning;
using Releasekit.Client.Plans;
using Releasekit.Server.Tests.Imports;

namespace Releasekit.Server.Tests.Learning;

/// <summary>
/// The flow of two real histories against an independent program (flow_of_history.py: NumPy's inverted_cdf percentiles,
/// SciPy's binomial law, Kaplan-Meier and Little's law by their definitions). Source of the dates: Checks/README.md.
/// </summary>
public class FlowOfHistoriesTests(Service service)
{
    private const string Python = "/usr/bin/python3";
    private const double Tolerance = 1e-9;

    [Theory]
    [InlineData("weekly-newsletter.csv", "2023-01-01", "2026-08-23", "2026-08-23T00:00:00Z")]
    [InlineData("weekly-newsletter.csv", "2024-03-01", "2025-03-20", "2025-03-04T18:00:00Z")]
    [InlineData("weekly-newsletter.csv", "2025-02-01", "2025-02-22", "2026-08-23T00:00:00Z")]
    [InlineData("fortnightly-library.csv", "2022-01-01", "2026-08-23", "2026-08-23T00:00:00Z")]
    [InlineData("fortnightly-library.csv", "2024-05-01", "2025-05-01", "2026-08-23T00:00:00Z")]
    public async Task The_flow_of_a_real_history_is_what_an_independent_program_says(
        string file, string from, string to, string at)
    {
        var isWeekly = file.StartsWith("weekly", StringComparison.Ordinal);
        var zone = DateTimeZoneProviders.Tzdb[isWeekly ? "America/Los_Angeles" : "UTC"];
        var (first, end) = (LocalDatePattern.Iso.Parse(from).Value, LocalDatePattern.Iso.Parse(to).Value);
        var asOf = InstantPattern.General.Parse(at).Value;
        var client = await GivenTheHistory(file, isWeekly, zone);

        var figures = (await client.Learning.Flow("real", first, end, asOf).Value()).Figures;
        var expected = Independently(
            file, isWeekly ? "draft_opened_at" : "", Midnight(first), Midnight(end), at);

        Assert.Equal(expected.GetProperty("finished").GetInt32(), figures.Finished);
        AssertNear(expected.GetProperty("throughputPerWeek").GetDouble(), figures.ThroughputPerWeek.Value);
        AssertSpread(expected.GetProperty("lead"), figures.Lead);

        if (isWeekly)
        {
            AssertSpread(expected.GetProperty("cycle"), figures.Cycle);
            AssertSpread(expected.GetProperty("edit"), figures.Stages.Single(stage => stage.Key == "edit").Time);
            AssertCurve(expected.GetProperty("cycleWithOpen"), figures.CycleWithOpen);
            AssertNear(expected.GetProperty("workInProgress").GetDouble(), figures.Little.WorkInProgress);
            AssertNear(expected.GetProperty("gap").GetDouble(), figures.Little.Gap);
            AssertNear(figures.Little.Gap, figures.Little.Carriers.Sum(carrier => carrier.Releases));
            Assert.Equal(expected.GetProperty("open").GetArrayLength(), figures.Open.Count);
            Assert.All(
                expected.GetProperty("open").EnumerateArray().Zip(figures.Open),
                pair => AssertNear(pair.First.GetDouble(), pair.Second.AgeDays));
        }

        string Midnight(LocalDate date) => InstantPattern.General.Format(date.AtStartOfDayInZone(zone).ToInstant());
    }

    private async Task<ReleasekitClient> GivenTheHistory(string file, bool isWeekly, DateTimeZone zone)
    {
        var publisher = await service.NewPublisher();
        var client = publisher.Client;
        await client.StagePlans.Create(new(
            "letter",
            isWeekly
                ? [new PlannedStage("draft"), new PlannedStage("edit"), new PlannedStage("publish", Publication: true)]
                : [new PlannedStage("publish", Publication: true)])).Value();
        await client.Series.Open(new(
            "real", "Real", "letter",
            new(
                isWeekly ? "FREQ=WEEKLY;BYDAY=WE" : "FREQ=WEEKLY;INTERVAL=2;BYDAY=FR", new(19, 0), zone.Id,
                isWeekly ? new LocalDate(2023, 1, 4) : new LocalDate(2022, 1, 14)))).Value();
        var started = await client.Imports.Start(
            ImportTests.Csv(await File.ReadAllTextAsync(PathOf(file))), "real",
            isWeekly ? "draft.started:draft_opened_at,edit.started:first_edit_at,edit.completed:last_edit_at" : null)
            .Value();
        Assert.Equal(ImportState.Done, (await ImportTests.Finished(publisher, started)).State);

        return client;
    }

    private static JsonElement Independently(string file, params string[] arguments)
    {
        Assert.True(
            File.Exists(Python) && Run("-c", "import scipy").Code == 0,
            $"{Python} with SciPy is missing; ops/test installs it (Debian package python3-scipy).");
        var (code, answer, complaint) = Run(
            [Path.Combine(AppContext.BaseDirectory, "Learning", "flow_of_history.py"), PathOf(file), .. arguments]);
        Assert.True(code == 0, complaint);

        return JsonDocument.Parse(answer).RootElement;
    }

    private static (int Code, string Answer, string Complaint) Run(params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(Python, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        var complaint = process.StandardError.ReadToEndAsync();
        var answer = process.StandardOutput.ReadToEnd();
        process.WaitForExit();

        return (process.ExitCode, answer, complaint.Result);
    }

    private static void AssertSpread(JsonElement expected, Spread actual)
    {
        foreach (var percentile in expected.EnumerateObject())
        {
            var figure = actual.At(int.Parse(percentile.Name, System.Globalization.CultureInfo.InvariantCulture));
            AssertNear(percentile.Value.GetProperty("value").GetDouble(), figure.Value);
            AssertNearOrNone(percentile.Value.GetProperty("low"), figure.Low);
            AssertNearOrNone(percentile.Value.GetProperty("high"), figure.High);
        }
    }

    private static void AssertCurve(JsonElement expected, SurvivalCurve actual)
    {
        Assert.Equal(expected.GetArrayLength(), actual.Steps.Count);

        foreach (var (step, told) in expected.EnumerateArray().Zip(actual.Steps))
        {
            AssertNear(step[0].GetDouble(), told.Time);
            Assert.Equal((step[1].GetInt32(), step[2].GetInt32()), (told.AtRisk, told.Finished));
            AssertNear(step[3].GetDouble(), told.Open);

            if (told.Open > Tolerance)
            {
                AssertNear(step[4].GetDouble(), told.StandardError);
            }
        }
    }

    private static void AssertNearOrNone(JsonElement expected, double? actual)
    {
        if (expected.ValueKind is JsonValueKind.Null)
        {
            Assert.Null(actual);
        }
        else
        {
            AssertNear(expected.GetDouble(), actual);
        }
    }

    private static void AssertNear(double expected, double? actual) =>
        Assert.InRange(Math.Abs(expected - actual!.Value), 0, Tolerance);

    private static string PathOf(string file) => Path.Combine(AppContext.BaseDirectory, "Checks", file);
}
