using System.Net;
using Releasekit.Client;
using Releasekit.Client.Learning;
using Releasekit.Client.Releases;
using SimulationError = Releasekit.Domain.Statistics.Forecast.SimulationError;

namespace Releasekit.Server.Tests.Learning;

/// <summary>Forecasts through HTTP against what is exact by hand: one stage of 2, 4, 4, 6, 8 or 8 hours.</summary>
public class ForecastTests(Service service)
{
    private static readonly double[] Hours = [2, 4, 4, 6, 8, 8];

    [Fact]
    public async Task A_slot_is_met_as_often_as_past_releases_took_no_longer_than_what_is_left()
    {
        await using var own = await service.StartAnother();
        var client = await GivenSixAndOneOpen(own, late: 0);

        // Wednesday 13:00: four working hours are left before Thursday 7:00; three of six took no more.
        own.Clock.StandAt(MadeWeeks.Monday9(6, 52));
        var forecast = Assert.Single((await client.Learning.Forecast(MadeWeeks.Series).Value()).Releases);

        AssertNear(0.5, forecast.Nonstop.Met!);
        AssertNear(0.5, forecast.Met!);
        Assert.Equal(("past_releases", 6), (forecast.Basis, forecast.Past));
        Assert.Equal(MadeWeeks.Monday9(6, 76), forecast.Nonstop.Finish[^1].At);
        Assert.Equal("no_finite_bound", forecast.Nonstop.Finish[^1].Caution);
        Assert.EndsWith("from 6 past releases.", forecast.Says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Ready_in_time_is_not_published_in_time_where_others_were_late()
    {
        await using var own = await service.StartAnother();
        var client = await GivenSixAndOneOpen(own, late: 2);

        own.Clock.StandAt(MadeWeeks.Monday9(6));
        var forecast = Assert.Single((await client.Learning.Forecast(MadeWeeks.Series).Value()).Releases);

        // Two of six came a day and a half after their slot, beyond any tolerance.
        AssertNear(4 / 6.0, forecast.Met!);
        Assert.Equal(1, forecast.Nonstop.Met!.Value);
    }

    [Fact]
    public async Task The_same_seed_gives_the_same_answer_and_a_single_release_has_its_own_line()
    {
        await using var own = await service.StartAnother();
        var client = await GivenSixAndOneOpen(own, late: 1);
        own.Clock.StandAt(MadeWeeks.Monday9(6, 52));

        var first = await client.Learning.Forecast(MadeWeeks.Series, seed: 7, trials: 2_000).Value();
        var again = await client.Learning.Forecast(MadeWeeks.Series, seed: 7, trials: 2_000).Value();
        var other = await client.Learning.Forecast(MadeWeeks.Series, seed: 8, trials: 2_000).Value();
        var one = await client.Learning.Forecast(first.Releases[0].Id, seed: 7, trials: 2_000).Value();

        Assert.Equivalent(first, again, strict: true);
        Assert.NotEqual(first.Releases[0].Met, other.Releases[0].Met);
        Assert.Equivalent(first.Releases[0], one.Forecast, strict: true);
        Assert.Equal(2_000, first.Releases[0].Met!.Trials);
        Assert.Equal(
            (MadeWeeks.Slot(6), first.Releases[0].Id), (first.Slots[0].Date, first.Slots[0].Release!.Value));
        Assert.Null(first.Slots[1].Release);
        Assert.Equal(1, first.ReadyBy!.With50);
        Assert.Equal(first.Releases[0].Finish, Assert.Single(first.WhenReady).Finish);
    }

    [Fact]
    public async Task As_of_an_earlier_instant_it_is_what_was_forecast_then()
    {
        await using var own = await service.StartAnother();
        var client = await GivenSixAndOneOpen(own, late: 0);
        var at = MadeWeeks.Monday9(6, 52);
        own.Clock.StandAt(at);
        var then = await client.Learning.Forecast(MadeWeeks.Series).Value();

        var release = await client.Releases.Get(then.Releases[0].Id).Value();
        own.Clock.StandAt(MadeWeeks.Monday9(6, 80));
        await client.Record(release, "cut", StageState.Started, at + Duration.FromHours(1));
        await client.Record(release, "cut", StageState.Completed);
        await client.Record(release, "publish", StageState.Completed);
        var afterwards = await client.Learning.Forecast(MadeWeeks.Series, at: at).Value();
        var published = await client.Learning.Forecast(release.Id).Value();

        Assert.Equivalent(then.Releases, afterwards.Releases, strict: true);
        Assert.Null(published.Forecast);
        Assert.Equal(ReleaseState.Closed, published.State);
    }

    [Fact]
    public async Task Under_five_past_releases_the_guesses_of_the_plan_are_drawn_from_and_named()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(0));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(
            client, Duration.FromHours(2), least: Duration.FromHours(1), most: Duration.FromHours(6));
        await MadeWeeks.Planned(client, 0, MadeWeeks.Monday9(0));

        var forecast = Assert.Single((await client.Learning.Forecast(MadeWeeks.Series).Value()).Releases);

        // Triangle 1, 2, 6: the median is 6 - √(0.5 · 5 · 4) = 2.84 hours.
        Assert.Equal("guesses", forecast.Basis);
        Assert.Equal(6 - Math.Sqrt(10), forecast.Nonstop.Finish[0].WorkingHours!.Value, 1);
        Assert.Equal("too_few_past", forecast.Finish[0].Caution);
        Assert.Contains("guesses in the stage plan", forecast.Says, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Where_nobody_guessed_it_says_what_is_missing()
    {
        var client = (await service.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client);
        var release = await client.Releases.Plan(new(MadeWeeks.Series, "No. 1")).Value();

        var forecast = await client.Learning.Forecast(MadeWeeks.Series).Value();
        var one = await client.Learning.Forecast(release.Id).Value();

        Assert.Empty(forecast.Releases);
        Assert.Equal(["cut"], Assert.Single(forecast.NotForecast).WithoutGuess);
        Assert.Equal(release.Id, one.NotForecast!.Release);
        Assert.Null(one.Forecast);
    }

    [Theory]
    [InlineData("seed=-1", "'seed' is a whole number from 0 on")]
    [InlineData("trials=10", "'trials' takes 100 to 100000")]
    [InlineData("from=2026-03-05&to=2026-03-01", "'to'")]
    public async Task A_wrong_question_is_told_what_would_be_right(string question, string told)
    {
        var publisher = await service.NewPublisher();
        await MadeWeeks.GivenTheSeries(publisher.Client);

        using var answer = await publisher.Http.GetAsync(
            new Uri($"/v1/series/{MadeWeeks.Series}/forecast?{question}", UriKind.Relative),
            TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains(
            told, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    /// <summary>Within five standard errors of the simulation (false alarm 5.7e-7).</summary>
    private static void AssertNear(double exact, Chance chance) => Assert.InRange(
        Math.Abs(chance.Value - exact), 0, 5 * SimulationError.Of(exact, chance.Trials));

    /// <param name="late">How many of the six came a day and a half after their slot.</param>
    private static async Task<ReleasekitClient> GivenSixAndOneOpen(Service own, int late)
    {
        own.Clock.StandAt(MadeWeeks.Monday9(6));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.GivenTheSeries(client, tolerance: Duration.FromHours(1));

        foreach (var week in Enumerable.Range(0, Hours.Length))
        {
            await MadeWeeks.Made(client, week, Hours[week], week < late ? 36 : 0);
        }

        await MadeWeeks.Planned(client, 6, MadeWeeks.Monday9(6));

        return client;
    }
}
