using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Bank;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Forecast;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Learning;

/// <summary>GET /v1/series/{series}/bank: how far today's bank carries, and how big it has to be.</summary>
internal static class GetBank
{
    private const double UsualProbability = 0.95;
    private const int UsualSlots = 12;
    private const int MostSlots = 52;
    private const int StocksShown = 8;

    /// <summary>Work is counted in quarters of a day, begun ones whole.</summary>
    public const int StepsOfDay = 4;

    private const ulong Seed = 1;

    public static void Map(IEndpointRouteBuilder series) => series
        .MapGet("/{series}/bank", Handle)
        .WithName("getBank")
        .WithSummary("See how far the bank carries")
        .WithDescription("""
            The bank are the finished, unpublished releases. From the days that past ones took: what today's bank covers
            ("slots", 12 when left out), how big it has to be for "probability" (0.95), and with a "break" of so many
            slots ahead. Where a release takes as long as from slot to slot, no bank is enough for long, and that is
            said. Exact for the work times that are known; needs five of them.
            """)
        .Answers(200, 404)
        .Needs(Scope.Read);

    private static async Task<Answer<BankBody>> Handle(
        string series, [FromQuery] double? probability, [FromQuery(Name = "break")] int? pause, [FromQuery] int? slots,
        [FromQuery] InstantParameter? at, Caller caller, IDocumentStore store, ServiceClock clock,
        CancellationToken cancel)
    {
        if (Check(probability, pause, slots) is { } unfit)
        {
            return unfit;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await WorkScene.Load(session, at?.Value, clock.Now, cancel);

        return scene.Series.TryGetValue(series, out var found)
            ? Show(scene, found, new(probability ?? UsualProbability, pause ?? 0, slots ?? UsualSlots))
            : Problems.NotFound($"series '{series}'");
    }

    private static BankBody Show(WorkScene scene, Series series, BankQuestion question)
    {
        ReleaseFacts[] own = [.. scene.Facts.Where(one => one.Series == series.Slug)];
        var times = MakingTimes.Of(own, scene.Worked, scene.Calendar);
        double[] lengths = [.. times.Days.Select(days => days * StepsOfDay)];
        var inBank = scene.Releases.Count(release =>
            release.Series == series.Slug && release.State is ReleaseState.Finished);
        var slotDays = SlotDays(series, scene.At);
        var known = times.Days.Count >= WorkLaw.FewestPast && slotDays > 0 ? WorkSteps.Of(lengths) : null;
        var stock = known is null ? null : OrderedStock.Of(known, slotDays!.Value * StepsOfDay);
        var carries = known is null ? null : Carries(lengths, known, slotDays!.Value * StepsOfDay, inBank, question);

        return new(
            scene.At,
            question.Probability,
            question.Break,
            inBank,
            slotDays,
            Spread.Of([.. times.Days], FigureUnit.ElapsedDays),
            times.LeftOut,
            known is null ? null : OrderedStock.Load(known, slotDays!.Value * StepsOfDay),
            carries,
            stock is null ? null : new(
                [.. Enumerable.Range(1, StocksShown).Select(stock.OnTime)], stock.SmallestStock(question.Probability),
                stock.MeanWait / StepsOfDay),
            Lost(scene, series, own, question.Probability),
            times.Days.Count < WorkLaw.FewestPast ? Lack.TooFewPast
                : slotDays is null ? Lack.NothingToCompare
                : stock is null ? Lack.NoStockIsEnough
                : null,
            BankWording.Of(inBank, slotDays, known, carries, question),
            BankBody.UsualAssumptions);
    }

    private static CarriesBody Carries(
        IReadOnlyList<double> lengths, WorkSteps work, int slotSteps, int inBank, BankQuestion question)
    {
        // What the break takes out of the bank is gone before the work goes on.
        var left = inBank - question.Break;
        var spread = left < 0 ? null : HorizonStock.Spread(lengths, slotSteps, left, question.Slots, Seed);

        return new(
            question.Slots,
            left < 0
                ? [.. Enumerable.Repeat(0.0, question.Slots)]
                : HorizonStock.NoneLate(work, slotSteps, left, question.Slots),
            spread?.Low,
            spread?.High,
            HorizonStock.SmallestStock(work, slotSteps, question.Slots, question.Probability) + question.Break);
    }

    /// <summary>From how many became ready between one promise and the next, in the last year of slots.</summary>
    private static LostBody? Lost(
        WorkScene scene, Series series, IEnumerable<ReleaseFacts> own, double probability)
    {
        var today = scene.At.InZone(series.Zone).Date;
        Instant[] promises =
        [
            .. SlotCalendar.Between(series, today.PlusYears(-1), today.PlusDays(1))
                .Where(slot => slot.Excuse is null)
                .Select(slot => slot.PromisedAt)
                .Where(promised => promised <= scene.At)
                .Order(),
        ];
        Instant[] ready = [.. own.Select(one => one.ReadyAt).OfType<Instant>()];
        int[] counts =
        [
            .. promises.Zip(promises.Skip(1), (from, to) => ready.Count(at => at > from && at <= to)),
        ];

        if (counts.Length < WorkLaw.FewestPast)
        {
            return null;
        }

        var law = StockChain.LawOf(counts);

        return new(
            law, counts.Length, [.. Enumerable.Range(1, StocksShown).Select(cap => new StockChain(law, cap).Miss)],
            StockChain.SmallestCap(law, probability));
    }

    private static int? SlotDays(Series series, Instant at)
    {
        var today = at.InZone(series.Zone).Date;
        LocalDate[] ahead = [.. SlotCalendar.Between(series, today, today.PlusYears(2)).Select(slot => slot.Date)];

        return ahead.Length < 2
            ? null
            : Math.Max(1, Period.DaysBetween(ahead[0], ahead[^1]) / (ahead.Length - 1));
    }

    private static Problem? Check(double? probability, int? pause, int? slots) => (probability, pause, slots) switch
    {
        (not null and not (> 0 and < 1), _, _) =>
            Unfit("probability", "'probability' lies between 0 and 1, such as 0.95."),
        (_, < 0 or > MostSlots, _) => Unfit("break", $"'break' is a number of slots, 0 to {MostSlots}."),
        (_, _, < 1 or > MostSlots) => Unfit("slots", $"'slots' takes 1 to {MostSlots}."),
        _ => null,
    };

    private static Problem Unfit(string parameter, string detail) =>
        Problems.Of("query-invalid", detail, new ProblemError(parameter, detail));
}

/// <summary>How the bank is asked about.</summary>
internal sealed record BankQuestion(double Probability, int Break, int Slots);
