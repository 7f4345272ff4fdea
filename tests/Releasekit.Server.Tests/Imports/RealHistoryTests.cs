using System.Text.Json;
using Releasekit.Client;
using Releasekit.Client.Imports;
using Releasekit.Client.Plans;
using Releasekit.Client.Schedule;

namespace Releasekit.Server.Tests.Imports;

/// <summary>
/// Two real publication histories, imported and judged through the API. Source
/// of the dates: the public version histories named in Checks/README.md; of the expected figures: an independent
/// program (SciPy), Checks/adherence-real.json.
/// </summary>
public class RealHistoryTests(Service service)
{
    private const string WeeklyMap =
        "draft.completed:draft_opened_at,edit.started:first_edit_at,edit.completed:last_edit_at";

    public static TheoryData<string> Cases => [.. Known.Value.Select(known => known.GetProperty("id").GetString()!)];

    private static readonly Lazy<JsonElement[]> Known = new(() =>
        [.. JsonDocument.Parse(File.ReadAllText(PathOf("adherence-real.json"))).RootElement.EnumerateArray()]);

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task A_real_history_is_judged_as_an_independent_program_does(string id)
    {
        var known = Known.Value.Single(one => one.GetProperty("id").GetString() == id);
        var publisher = await service.NewPublisher();
        var client = publisher.Client;
        await GivenTheSeries(client, known.GetProperty("inputs"));
        await Import(publisher, known);
        var at = Instant.FromDateTimeOffset(known.GetProperty("inputs").GetProperty("now").GetDateTimeOffset());
        var isWeekly = id.Contains("weekly", StringComparison.Ordinal);
        var (from, to) = isWeekly
            ? (new LocalDate(2023, 1, 4), new LocalDate(2026, 8, 22)) : (new(2024, 1, 12), new(2026, 8, 21));

        foreach (var tolerance in known.GetProperty("expected").GetProperty("by_tolerance").EnumerateObject())
        {
            var series = await client.Series.Get("real");
            var hours = int.Parse(tolerance.Name.TrimEnd('h'), System.Globalization.CultureInfo.InvariantCulture);
            await client.Series.Change("real", new(OnTimeTolerance: Duration.FromHours(hours)), series.ETag()).Value();

            AssertSame(tolerance.Value, await client.Series.Adherence("real", from, to, at).Value());
            AssertSame(known.GetProperty("expected").GetProperty("lateness_hours"),
                await client.Series.Adherence("real", from, to, at).Value());
        }
    }

    private static async Task GivenTheSeries(ReleasekitClient client, JsonElement inputs)
    {
        PlannedStage[] stages = [new("draft"), new("edit"), new("publish", Publication: true)];
        var isLinked = inputs.TryGetProperty("link", out _);
        var start = isLinked ? "2023-01-04" : inputs.GetProperty("dtstart").GetString()!;
        var time = isLinked ? inputs.GetProperty("local_time").GetString()! : start[11..16];

        await client.StagePlans.Create(new("letter", stages)).Value();
        await client.Series.Open(new(
            "real", "Real", "letter",
            new(
                inputs.GetProperty("rrule").GetString()!, ApiPatterns.TimeOfDay.Parse(time).Value,
                inputs.GetProperty("tz").GetString()!,
                NodaTime.Text.LocalDatePattern.Iso.Parse(start[..10]).Value),
            EarlyWindow: isLinked ? null : Duration.FromDays(inputs.GetProperty("early_days").GetInt32()),
            LateWindow: isLinked ? null : Duration.FromDays(inputs.GetProperty("late_days").GetInt32()))).Value();
    }

    private static async Task Import(TestPublisher publisher, JsonElement known)
    {
        var file = known.TryGetProperty("file", out var name) ? name.GetString()! : "weekly-newsletter.csv";
        var isWeekly = file.StartsWith("weekly", StringComparison.Ordinal);
        var isLinked = known.GetProperty("inputs").TryGetProperty("link", out _);
        var content = ImportTests.Csv(await File.ReadAllTextAsync(PathOf(file)));
        var started = await publisher.Client.Imports.Start(
            content, "real", isWeekly ? WeeklyMap : null, isWeekly && !isLinked ? "slot_date" : null).Value();

        Assert.Equal(ImportState.Done, (await ImportTests.Finished(publisher, started)).State);
    }

    private static void AssertSame(JsonElement expected, Adherence actual)
    {
        var figures = new Dictionary<string, double?>
        {
            ["on_time"] = actual.OnTime,
            ["late"] = actual.Late,
            ["missed"] = actual.Missed,
            ["overdue"] = actual.Overdue,
            ["extra"] = actual.Extra,
            ["due"] = actual.Due,
            ["on_time_rate"] = actual.OnTimeRate.Value,
            ["current_streak"] = actual.CurrentStreak,
            ["longest_streak"] = actual.LongestStreak,
            ["n"] = actual.LatenessHours.N,
            ["min"] = actual.LatenessHours.Min,
            ["p50"] = actual.LatenessHours.P50,
            ["p85"] = actual.LatenessHours.P85,
            ["p95"] = actual.LatenessHours.P95,
            ["max"] = actual.LatenessHours.Max,
        };

        foreach (var figure in expected.EnumerateObject().Where(figure => figures.ContainsKey(figure.Name)))
        {
            Assert.Equal(figure.Value.GetDouble(), figures[figure.Name]!.Value, 1e-6);
        }

        if (expected.TryGetProperty("wilson95", out var interval))
        {
            Assert.Equal(interval[0].GetDouble(), actual.OnTimeRate.Low, 1e-6);
            Assert.Equal(interval[1].GetDouble(), actual.OnTimeRate.High, 1e-6);
        }

        Assert.Equal(actual.Slots, actual.Due + actual.Pending + actual.Excused + actual.Future);
    }

    private static string PathOf(string file) => Path.Combine(AppContext.BaseDirectory, "Checks", file);
}
