using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>POST /v1/series/{series}/breaks: plans a pause; slots in it whose time has not come are excused.</summary>
internal static class PlanBreak
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapPost("/{series}/breaks", Handle)
        .WithName("planBreak")
        .WithSummary("Plan a break")
        .WithDescription("Both ends are included. Slots whose time has passed stay what they are.")
        .Answers(201, 404, 409, 422)
        .Needs(Scope.Write);

    private static Task<Answer<BreakBody>> Handle(
        string series, PlanBreakRequest body, Caller caller, Ledger ledger, ServiceClock clock,
        CancellationToken cancel) =>
        ledger.Write<BreakBody>(caller.Publisher, async unit =>
        {
            if (await unit.Series(series) is not { } stream)
            {
                return Problems.NotFound($"series '{series}'");
            }

            var id = NewIds.Next();

            return stream.Append(
                SeriesDecider.PlanBreak(stream.State, id, body.From, body.To, body.Reason, clock.Now)) is { } refusal
                ? Problems.Of(refusal)
                : Http.Answers.Created($"/v1/series/{series}/breaks/{id}", BreakBody.Of(stream.State.Breaks[^1]));
        }, cancel);
}

/// <param name="From">First day.</param>
/// <param name="To">Last day, included.</param>
/// <param name="Reason">Why, in the publisher's words; may be left out.</param>
internal sealed record PlanBreakRequest(LocalDate From, LocalDate To, string? Reason = null);
