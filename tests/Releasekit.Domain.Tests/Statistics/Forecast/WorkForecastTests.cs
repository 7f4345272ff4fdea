using CsCheck;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Forecast;
using static Releasekit.Domain.Tests.Statistics.Forecast.Ahead;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

public sealed class WorkForecastTests
{
    private static readonly double[][] Rows = [[8, 4], [4, 4], [12, 2], [6, 6], [5, 3], [9, 9]];

    [Fact]
    public void The_same_seed_gives_the_same_forecast_whatever_the_threads()
    {
        const int trials = 2000;
        var model = TrialModel.Of(WorkLaw.OfPast(Past(Rows)), [Open(1, null, Line(2)), Open(2, null, Line(2))]);
        var (alone, together) = (new double[trials * 2], new double[trials * 2]);

        model.Run(42, 0, alone);
        Parallel.For(0, 16, part => model.Run(42, part * 125, together.AsSpan(part * 250, 250)));

        Assert.Equal(alone, together);
        var told = WorkForecast.Simulate(model, Eight, Monday9, 42, trials);
        foreach (var (index, release) in told.Releases.Index())
        {
            double[] sorted = [.. Enumerable.Range(0, trials).Select(trial => alone[(trial * 2) + index]).Order()];
            Assert.Equal(
                Spread.Shown.Select(percent => Percentile.Of(sorted, percent)),
                release.Finish.Select(finish => finish.WorkingHours));
        }

        model.Run(43, 0, together);
        Assert.NotEqual(alone, together);
    }

    [Fact]
    public void One_person_works_on_the_earliest_slot_first_and_the_bank_is_ready()
    {
        var (thursday, week) = (Monday9 + Duration.FromDays(3), Monday9 + Duration.FromDays(7));
        var law = WorkLaw.OfPast(Past([6], [10]));
        var model = TrialModel.Of(law, [Open(2, week, Line(1)), Open(3, week), Open(1, thursday, Line(1))]);

        var forecast = WorkForecast.Simulate(model, Eight, Monday9, seed: 1);

        Assert.Equal([1, 2, 3], forecast.Releases.Select(one => (int)one.Release.ToByteArray()[0]));
        Assert.Equal(1, forecast.Releases[2].Met!.Value);
        Assert.Equal(Monday9, forecast.Releases[2].Finish[0].At);
        AssertNear(0.25, Count(forecast.ReadyBy(Monday9 + Duration.FromHours(28)), 3), 10_000);
        Assert.Equal(1, forecast.ReadyBy(Monday9 - Duration.FromHours(1)).AtLeast[0].Value);
        Assert.Equal(0, forecast.ReadyBy(Monday9 - Duration.FromHours(1)).AtLeast[1].Value);
        Assert.Equal(3, forecast.ReadyBy(week).With(85));
        Assert.Equal(2, forecast.ReadyBy(thursday - Duration.FromDays(2)).With(50));
    }

    [Fact]
    public void When_so_many_are_ready_is_the_time_of_the_last_of_them()
    {
        var law = WorkLaw.OfPast(Past([8]));
        var model = TrialModel.Of(law, [Open(1, null, Line(1)), Open(2, null, Line(1)), Open(3, null)]);

        var forecast = WorkForecast.Simulate(model, Eight, Monday9, seed: 1, trials: 10);

        // What ends with the day ends on that day, not on the next morning.
        Assert.Equal(Monday9, forecast.WhenReady(1)[2].At);
        Assert.Equal(Monday9 + Duration.FromHours(8), forecast.WhenReady(2)[2].At);
        Assert.Equal(Monday9 + Duration.FromHours(32), forecast.WhenReady(3)[2].At);
        Assert.Throws<ArgumentOutOfRangeException>(() => forecast.WhenReady(4));
    }

    [Fact]
    public void Work_that_was_begun_is_longer_than_it_has_taken()
    {
        var begun = Open(1, null, Stage("a", done: 7), Stage("b", 0, "a"));

        var hours = Trials(TrialModel.Of(WorkLaw.OfPast(Past(Rows)), [begun]), 5000)[0];

        // Longer than 7 in the first stage: the rows 8+4, 12+2, 9+9, whole; left 5, 7 and 11.
        Assert.Equal([5, 7, 11], hours.Distinct().Order());
        AssertNear(1 / 3.0, hours.Count(hour => hour == 11), 5000);
    }

    [Fact]
    public void What_has_outlasted_everything_known_is_named()
    {
        var model = TrialModel.Of(
            WorkLaw.OfPast(Past(Rows)), [Open(1, null, Stage("a", done: 90)), Open(2, null, Stage("a", done: 3))]);

        var forecast = WorkForecast.Simulate(model, Eight, Monday9, seed: 1, trials: 100);

        Assert.Equal([true, false], forecast.Releases.Select(release => release.IsOutlasting));
    }

    [Fact]
    public void Under_five_past_releases_guesses_are_drawn_from_and_named_and_without_them_nothing_is_forecast()
    {
        StageGuess[] guesses = [new("a", 1, 2, 6), new("b", 3, 3, 3)];

        var law = WorkLaw.Choose(Past([8, 4], [4, 4]), guesses)!;

        Assert.Equal((ForecastBasis.Guesses, 2), (law.Basis, law.Past));
        Assert.Null(WorkLaw.Choose(Past([8, 4], [4, 4]), [guesses[0]]));
        Assert.Equal(ForecastBasis.PastReleases, WorkLaw.Choose(Past(Rows), guesses)!.Basis);
        var forecast = WorkForecast.Simulate(TrialModel.Of(law, [Open(1, null, Line(2))]), Eight, Monday9, seed: 1);
        Assert.All(forecast.Releases[0].Finish, finish => Assert.Equal(Lack.TooFewPast, finish.Caution));

        // Triangle 1, 2, 6: at most 2 with (2-1)/(6-1); at most 4 with 1 - (6-4)²/((6-1)(6-2)).
        var hours = Trials(TrialModel.Of(law, [Open(1, null, Line(2))]), 10_000)[0];
        AssertNear(0.2, hours.Count(hour => hour <= 5), 10_000);
        AssertNear(0.8, hours.Count(hour => hour <= 7), 10_000);
    }

    [Fact]
    public void High_percentiles_of_few_past_releases_come_with_a_caution()
    {
        var law = WorkLaw.OfPast(Past([.. Enumerable.Range(1, 10).Select(hours => new double[] { hours })]));

        var forecast = WorkForecast.Simulate(TrialModel.Of(law, [Open(1, null, Line(1))]), Eight, Monday9, seed: 1);

        Assert.Equal(
            [null, Lack.NoFiniteBound, Lack.NoFiniteBound, Lack.NoFiniteBound],
            forecast.Releases[0].Finish.Select(finish => finish.Caution));
    }

    [Fact]
    public void Certain_work_is_ready_when_the_capacity_plan_says() =>
        Gen.Select(Gen.Int[1, 20].Array[1, 6], Gen.Int[1, 30].Array[6]).Sample((hours, dues) =>
        {
            var slots = hours.Select((_, i) => Monday9 + Duration.FromHours(dues[i] * 168 + i)).ToArray();
            var plan = CapacityPlan.TryLay(
                [.. hours.Select((hour, i) => new OpenWork(
                    WorkKind.Making, $"{i}", "a", Duration.FromHours(hour), slots[i], []))],
                Eight, Monday9, new CapacityQuestion(), out _)!;
            var law = WorkLaw.OfStages(
                [.. hours.Select((_, i) => $"{i}")], [.. hours.Select(hour => new double[] { hour })]);

            var forecast = WorkForecast.Simulate(
                TrialModel.Of(law, hours.Select((_, i) => Open(i, slots[i], Stage($"{i}")))), Eight, Monday9, 1, 1);

            Assert.Equal(
                plan.Outlooks.Select(outlook => (outlook.ReadyAt, outlook.IsMet)),
                forecast.Releases.Select(one => (one.Finish[0].At, one.Met!.Value == 1)));
        });

    private static int Count(CountForecast forecast, int releases) =>
        (int)Math.Round(forecast.AtLeast[releases].Value * forecast.AtLeast[releases].Trials);
}
