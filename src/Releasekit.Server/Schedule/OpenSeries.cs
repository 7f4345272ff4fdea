using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>POST /v1/series: opens a series with its cadence.</summary>
internal static class OpenSeries
{
    public static void Map(IEndpointRouteBuilder series) => series
        .MapPost("/", Handle)
        .WithName("openSeries")
        .WithSummary("Open a series")
        .WithDescription("The cadence may start in the past, so that a history can be imported under it.")
        .Answers(201, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<SeriesBody>> Handle(
        OpenSeriesRequest body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write(caller.Publisher, unit => Begin(unit, body, clock.Now, cancel), cancel);

    /// <summary>Begins a series in <paramref name="unit"/>, and shows it as made.</summary>
    /// <param name="plan">The plan it follows where that is made in the same unit; null: it stands already.</param>
    public static async Task<Answer<SeriesBody>> Begin(
        UnitOfWork unit, OpenSeriesRequest body, Instant now, CancellationToken cancel, StagePlan? plan = null)
    {
        var id = StreamIds.OfSeries(body.Id);
        var decision = SeriesDecider.Open(
            id, body.Id, body.Title, body.StagePlan, body.Cadence.ToTerms(now), body.ToSettings(), now);

        if (decision.Refusal is { } refusal)
        {
            return Problems.Of(refusal);
        }

        if (plan is null && await unit.Documents.LoadAsync<StagePlanVersions>(body.StagePlan, cancel) is null)
        {
            return KnownPlans.Unknown(body.StagePlan);
        }

        return await unit.Documents.LoadAsync<Series>(id, cancel) is null
            ? Http.Answers.Created($"/v1/series/{body.Id}", SeriesBody.Of(unit.Begin(id, [.. decision])))
            : Problems.Of("exists", $"There is a series '{body.Id}' already; PATCH changes it.");
    }
}

/// <param name="Id">A slug, unique among the publisher's series.</param>
/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="StagePlan">The plan its releases follow unless they say otherwise.</param>
/// <param name="Cadence">When it promises something.</param>
/// <param name="OnTimeTolerance">How late still counts as on time. Elapsed, a day being 24 hours, included.</param>
/// <param name="EarlyWindow">How early a publication still counts for a slot nobody holds.</param>
/// <param name="LateWindow">How late, likewise; shorter than the shortest gap of the rule.</param>
/// <param name="RiskThreshold">0 to 1; 0.8 when left out.</param>
internal sealed record OpenSeriesRequest(
    string Id,
    string Title,
    string StagePlan,
    CadenceRequest Cadence,
    Duration? OnTimeTolerance = null,
    Duration? EarlyWindow = null,
    Duration? LateWindow = null,
    double? RiskThreshold = null)
{
    public SeriesSettings ToSettings() => new(OnTimeTolerance, EarlyWindow, LateWindow, RiskThreshold ?? 0.8);
}

/// <param name="Rrule">RFC 5545 recurrence rule that names days, e.g. FREQ=WEEKLY;BYDAY=TH.</param>
/// <param name="Start">The date the rule counts from; today when left out.</param>
/// <param name="Time">Local time of day of every slot.</param>
/// <param name="Zone">IANA zone id.</param>
internal sealed record CadenceRequest(string Rrule, LocalTime Time, string Zone, LocalDate? Start = null)
{
    public CadenceTerms ToTerms(Instant now) => new(
        Rrule, Start ?? now.InZone(LocalTimes.FindZone(Zone) ?? DateTimeZone.Utc).Date, Time, Zone);
}

internal static class KnownPlans
{
    public static Problem Unknown(string plan) => Problems.Of(
        "stage_plan.unknown",
        $"There is no stage plan '{plan}'; create it with POST /v1/stage-plans, or name one that exists.",
        new ProblemError("/stagePlan", "Unknown."));
}
