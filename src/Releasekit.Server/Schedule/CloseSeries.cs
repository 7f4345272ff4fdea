using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>POST /v1/series/{series}/close: the series promises nothing any more from now on.</summary>
internal static class CloseSeries
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapPost("/{series}/close", Handle)
        .WithName("closeSeries")
        .WithSummary("Close a series")
        .WithDescription(
            "Slots after now vanish, and releases on them lose them and are listed. What was promised before stays. A "
                + "second time changes nothing.")
        .Answers(200, 404)
        .Needs(Scope.Write);

    private static Task<Answer<CadenceSetBody>> Handle(
        string series, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<CadenceSetBody>(caller.Publisher, async unit =>
        {
            if (await unit.SeriesExclusively(series) is not { } stream)
            {
                return Problems.NotFound($"series '{series}'");
            }

            stream.Append(SeriesDecider.Close(stream.State, clock.Now));
            var moved = await SlotClaims.Settle(unit, stream.State, reassign: false, clock.Now, cancel);

            return new CadenceSetBody(SeriesBody.Of(stream.State), moved, []);
        }, cancel);
}
