using System.Net;
using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Learning;

/// <summary>
/// The bank through HTTP, on the published case (statistics.json, i.modelC.finite_horizon and i.modelB.dgi1): work of
/// 5, 6, 8 and 12 days with 0.4, 0.3, 0.2 and 0.1, a slot every seven days.
/// </summary>
public class BankTests(Service service)
{
    private static readonly double[] Days = [5, 5, 5, 5, 6, 6, 6, 8, 8, 12];

    [Fact]
    public async Task The_bank_carries_as_far_as_the_exact_case_says()
    {
        await using var own = await service.StartAnother();
        var client = await GivenTenOneAfterAnother(own);
        await GivenFinished(client, 2);

        var bank = await client.Learning.Bank(MadeWeeks.Series, probability: 0.99).Value();

        Assert.Equal((2, 7), (bank.InBank, bank.SlotDays));
        Assert.Equal(0.942857142857, bank.Load!.Value, 9);
        Assert.Equal(0.9866458282, bank.Carries!.NoneLate[11], 9);
        Assert.Equal(0.9934411, bank.Carries.NoneLate[8], 9);
        Assert.Equal(3, bank.Carries.Needed);
        Assert.Equal(
            [0.325260527, 0.758471606, 0.916695727], bank.LongRun!.OnTime.Take(3).Select(p => Math.Round(p, 9)));
        Assert.Equal((5, 4.924739473), (bank.LongRun.Needed!.Value, Math.Round(bank.LongRun.MeanWaitDays, 9)));
        Assert.Equal(
            "2 finished releases carry you through 12 weeks with 99 %. For 99 % it takes 3.", bank.Says);
    }

    [Fact]
    public async Task A_break_takes_its_slots_out_of_the_bank_first()
    {
        await using var own = await service.StartAnother();
        var client = await GivenTenOneAfterAnother(own);
        await GivenFinished(client, 2);

        var bank = await client.Learning.Bank(MadeWeeks.Series, probability: 0.85, @break: 1).Value();
        var longer = await client.Learning.Bank(MadeWeeks.Series, @break: 3).Value();

        Assert.Equal(0.88082083476, bank.Carries!.NoneLate[11], 9);
        Assert.Equal(2, bank.Carries.Needed);
        Assert.All(longer.Carries!.NoneLate, none => Assert.Equal(0, none));
    }

    [Fact]
    public async Task Where_no_bank_is_enough_it_says_so()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(MadeWeeks.Monday9(40));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.WorkAllHours(client);
        await MadeWeeks.GivenTheSeries(client);

        foreach (var week in Enumerable.Range(0, 5))
        {
            await OneMade(client, MadeWeeks.Monday9(week * 3), days: 9);
        }

        var bank = await client.Learning.Bank(MadeWeeks.Series).Value();

        Assert.Equal("no_stock_is_enough", bank.Missing);
        Assert.Null(bank.LongRun);
        Assert.Contains(
            "A release takes 9.0 days and is promised every 7: in the long run no bank is enough", bank.Says,
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task With_fewer_than_five_past_releases_nothing_is_told_but_the_bank()
    {
        var publisher = await service.NewPublisher();
        await MadeWeeks.GivenTheSeries(publisher.Client);

        var bank = await publisher.Client.Learning.Bank(MadeWeeks.Series).Value();

        Assert.Equal("too_few_past", bank.Missing);
        Assert.Null(bank.Carries);
        Assert.StartsWith("An empty bank. How far that carries is not known", bank.Says, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("probability=95", "'probability' lies between 0 and 1")]
    [InlineData("break=-1", "'break' is a number of slots")]
    [InlineData("slots=0", "'slots' takes 1 to 52")]
    public async Task A_wrong_question_is_told_what_would_be_right(string question, string told)
    {
        var publisher = await service.NewPublisher();
        await MadeWeeks.GivenTheSeries(publisher.Client);

        using var answer = await publisher.Http.GetAsync(
            new Uri($"/v1/series/{MadeWeeks.Series}/bank?{question}", UriKind.Relative),
            TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains(
            told, await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    [Fact]
    public async Task Projects_tell_what_to_give_a_new_one()
    {
        await using var own = await service.StartAnother();
        var client = (await own.NewPublisher()).Client;
        own.Clock.StandAt(Instant.FromUtc(2026, 1, 5, 8, 0));

        // Promised for the 40th day, finished on the 40th, 50th, 60th, 80th and 100th.
        foreach (var days in new[] { 40, 50, 60, 80, 100 })
        {
            var begun = own.Clock.Now;
            var project = await client.Projects.Propose(new($"Atlas, part {days}")).Value();
            await client.Projects.Start(project.Id, new("A printed part", begun.InUtc().Date.PlusDays(39))).Value();
            own.Clock.StandAt(begun + Duration.FromDays(days - 0.5));
            await client.Projects.Finish(project.Id, new()).Value();
            own.Clock.StandAt(begun + Duration.FromDays(days));
        }

        var timeliness = await client.Learning.Timeliness(days: 60).Value();

        Assert.Equal((5, 1.5), (timeliness.Projects.N, timeliness.Projects.MedianRatio));
        Assert.Equal(0.2, timeliness.Projects.AtOrUnder.Value);
        Assert.Equal((4, 0, 1), (
            timeliness.Projects.Sign.Greater, timeliness.Projects.Sign.Smaller, timeliness.Projects.Sign.Ties));
        Assert.Equal(0.125, timeliness.Projects.Sign.TwoSided);
        var half = timeliness.Suggestion!.ByPercent[0];
        Assert.Equal((50, 90.0), (half.Percent, half.Days.Value));
        Assert.Equal(own.Clock.Now.InUtc().Date.PlusDays(89), half.FinishBy);
    }

    private static async Task<ReleasekitClient> GivenTenOneAfterAnother(Service own)
    {
        own.Clock.StandAt(MadeWeeks.Monday9(30));
        var client = (await own.NewPublisher()).Client;
        await MadeWeeks.WorkAllHours(client);
        await MadeWeeks.GivenTheSeries(client);
        var begin = MadeWeeks.Monday9(1);

        foreach (var days in Days)
        {
            await OneMade(client, begin, days);
            begin += Duration.FromDays(days + 1);
        }

        return client;
    }

    private static async Task OneMade(ReleasekitClient client, Instant begin, double days)
    {
        var release = await client.Releases.Plan(new(MadeWeeks.Series, "One", PlannedAt: begin)).Value();
        var end = begin + Duration.FromDays(days);
        await client.Record(release, "cut", StageState.Started, begin);
        await client.Record(release, "cut", StageState.Completed, end);
        await client.Record(release, "publish", StageState.Completed, end);
    }

    private static async Task GivenFinished(ReleasekitClient client, int count)
    {
        foreach (var number in Enumerable.Range(0, count))
        {
            var release = await client.Releases.Plan(new(MadeWeeks.Series, $"Finished {number}")).Value();
            await client.Record(release, "cut", StageState.Skipped, note: "was recorded before");
        }
    }
}
