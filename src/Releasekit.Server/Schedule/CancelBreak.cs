using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>DELETE /v1/series/{series}/breaks/{id}: calls a break off.</summary>
internal static class CancelBreak
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapDelete("/{series}/breaks/{id:guid}", Handle)
        .WithName("cancelBreak")
        .WithSummary("Cancel a break")
        .WithDescription("Slots in it whose time has not come are promised again; those that passed stay excused.")
        .Answers(204, 404)
        .Needs(Scope.Write);

    private static Task<Answer<Nothing>> Handle(
        string series, Guid id, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<Nothing>(caller.Publisher, async unit =>
        {
            if (await unit.Series(series) is not { } stream || stream.State.Breaks.All(pause => pause.Id != id))
            {
                return Problems.NotFound("break of that id");
            }

            stream.Append(SeriesDecider.CancelBreak(stream.State, id, clock.Now));
            return Http.Answers.NoContent();
        }, cancel);
}
