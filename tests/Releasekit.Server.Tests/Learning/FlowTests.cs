using System.Net;
using System.Text.Json;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Learning;

/// <summary>
/// Flow and chart through HTTP, on times reckoned by hand; the figures themselves are checked against published values
/// in the domain's tests.
/// </summary>
public class FlowTests(Service service)
{
    private const string Window = "from=2026-01-01&to=2026-05-01";

    [Fact]
    public async Task Lead_and_cycle_are_those_that_were_recorded()
    {
        var publisher = await GivenThreePublished();

        var figures = (await Ask(publisher, $"flow?{Window}")).GetProperty("figures");

        Assert.Equal(3, figures.GetProperty("finished").GetInt32());
        Assert.Equal(4.0, Percentile(figures, "cycle", 50).GetProperty("value").GetDouble());
        Assert.Equal(6.0, Percentile(figures, "cycle", 95).GetProperty("value").GetDouble());
        Assert.Equal(
            "no_finite_bound", Percentile(figures, "cycle", 95).GetProperty("highMissing").GetString());
    }

    [Fact]
    public async Task As_of_an_earlier_instant_only_what_had_happened_is_counted()
    {
        var publisher = await GivenThreePublished();

        var figures = (await Ask(publisher, $"flow?{Window}&at=2026-03-13T12:00:00Z")).GetProperty("figures");

        Assert.Equal(2, figures.GetProperty("finished").GetInt32());
        Assert.Equal(1, figures.GetProperty("open").GetArrayLength());
    }

    [Fact]
    public async Task The_table_says_what_the_data_say()
    {
        var publisher = await GivenThreePublished();

        var table = await publisher.Http.GetStringAsync(
            new Uri($"/v1/series/{Scenario.Series}/flow?{Window}&format=csv", UriKind.Relative),
            TestContext.Current.CancellationToken);

        Assert.Contains(
            "\r\ncycle,,50,elapsed_days,3,4,,,,no_finite_bound,no_finite_bound\r\n", table, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_chart_begins_anew_where_the_publisher_says_so()
    {
        var publisher = await GivenThreePublished();

        var whole = (await Ask(publisher, $"chart?{Window}")).GetProperty("chart");
        var parted = (await Ask(publisher, $"chart?{Window}&restart=2026-03-10")).GetProperty("chart");

        Assert.Equal(
            [2.0, 4.0, 6.0],
            whole.GetProperty("points").EnumerateArray().Select(point => point.GetProperty("value").GetDouble()));
        Assert.Equal(1, whole.GetProperty("phases").GetArrayLength());
        Assert.Equal(
            [1, 2],
            parted.GetProperty("phases").EnumerateArray().Select(phase => phase.GetProperty("count").GetInt32()));
    }

    [Theory]
    [InlineData("flow?format=xml", "'format' takes json or csv")]
    [InlineData("chart?measure=nonsense", "'measure' takes cycle, lateness, or the key of a stage")]
    [InlineData("chart?baseline=1", "'baseline' takes 2 to 200 points")]
    [InlineData("flow?from=2199-01-01&to=2199-02-01", "still to come")]
    public async Task A_wrong_question_is_told_what_would_be_right(string question, string told)
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();

        using var answer = await publisher.Http.GetAsync(
            new Uri($"/v1/series/{Scenario.Series}/{question}", UriKind.Relative),
            TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains(told, await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    /// <summary>For the slots of 5, 12 and 19 March, begun two, four and six days before, all starts known.</summary>
    private async Task<TestPublisher> GivenThreePublished()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();

        foreach (var i in Enumerable.Range(0, 3))
        {
            var slot = new LocalDate(2026, 3, 5).PlusWeeks(i);
            var release = await publisher.Client.GivenARelease($"No. {i}", slot);
            var at = slot.At(new LocalTime(7, 0)).InUtc().ToInstant();

            foreach (var (stage, days) in new[]
            {
                ("outline", 2.0 * (i + 1)), ("record", 1.0), ("mix", 0.5), ("publish", 0.0),
            })
            {
                var began = at - Duration.FromDays(days);
                await publisher.Client.Record(release, stage, StageState.Started, began);
                await publisher.Client.Record(release, stage, StageState.Completed, began);
            }
        }

        return publisher;
    }

    private static JsonElement Percentile(JsonElement figures, string name, int percent) => figures
        .GetProperty(name).GetProperty("percentiles").EnumerateArray()
        .Single(one => one.GetProperty("percent").GetInt32() == percent).GetProperty("estimate");

    private static async Task<JsonElement> Ask(TestPublisher publisher, string question)
    {
        var text = await publisher.Http.GetStringAsync(
            new Uri($"/v1/series/{Scenario.Series}/{question}", UriKind.Relative),
            TestContext.Current.CancellationToken);

        return JsonDocument.Parse(text).RootElement;
    }
}
