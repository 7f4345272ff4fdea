using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>PUT /v1/series/{series}/cadence: another rule from a date on; the past keeps the rule it had.</summary>
internal static class SetCadence
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapPut("/{series}/cadence", Handle)
        .WithName("setCadence")
        .WithSummary("Set the cadence from a date on")
        .WithDescription("""
            Releases on slots that vanish lose them and are listed; with reassign=true they move to the next free
            slots, in order. If-Match takes the ETag of the series and is not needed: repeating the request changes
            nothing.
            """)
        .Answers(200, 404, 409, 412, 422)
        .Needs(Scope.Write);

    private static Task<Answer<CadenceSetBody>> Handle(
        string series, SetCadenceRequest body, [FromQuery] bool? reassign,
        Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<CadenceSetBody>(caller.Publisher, async unit =>
        {
            if (await unit.SeriesExclusively(series) is not { } stream)
            {
                return Problems.NotFound($"series '{series}'");
            }

            if (ETags.CheckIfMatch(request, SeriesBody.Of(stream.State), isNeeded: false) is { } stale)
            {
                return stale;
            }

            var now = clock.Now;
            var terms = new CadenceTerms(
                body.Rrule, body.Start ?? body.From, body.Time, body.Zone ?? stream.State.Cadence.Zone);

            if (stream.Append(SeriesDecider.SetCadence(stream.State, terms, body.From, now)) is { } refusal)
            {
                return Problems.Of(refusal);
            }

            var moved = await SlotClaims.Settle(unit, stream.State, reassign ?? false, now, cancel);

            return new CadenceSetBody(
                SeriesBody.Of(stream.State),
                [.. moved.Where(release => release.Slot is null)],
                [.. moved.Where(release => release.Slot is not null)]);
        }, cancel);
}

/// <param name="Rrule">RFC 5545 recurrence rule that names days.</param>
/// <param name="Time">Local time of day of every slot, in the zone.</param>
/// <param name="From">The first local date it holds for: today or later.</param>
/// <param name="Zone">IANA zone id; the present one when left out.</param>
/// <param name="Start">The date the rule counts from; "from" when left out.</param>
internal sealed record SetCadenceRequest(
    string Rrule, LocalTime Time, LocalDate From, string? Zone = null, LocalDate? Start = null);

/// <param name="Series">The series as it is now.</param>
/// <param name="Unassigned">Releases whose slot vanished and that have none now.</param>
/// <param name="Reassigned">Releases that were moved to the next free slots.</param>
internal sealed record CadenceSetBody(
    SeriesBody Series, IReadOnlyList<MovedReleaseBody> Unassigned, IReadOnlyList<MovedReleaseBody> Reassigned);
