using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>
/// PUT /v1/series/{series}/slots/{date}: moves a slot, gives it up or takes it
/// up again, gives it to a release or frees it.
/// </summary>
internal static class ChangeSlot
{
    public static void Map(IEndpointRouteBuilder routes) => routes
        .MapPut("/{series}/slots/{date}", Handle)
        .WithName("changeSlot")
        .WithSummary("Move, give up or assign a slot")
        .WithDescription("""
            What is named in the body becomes so; the rest stays. A slot is named by its original local date, also
            after it was moved. A change made before its time changes what was promised; one made after it does not:
            the slot stays late or missed. Past slots may be assigned.
            """)
        .Answers(200, 404, 409, 412, 422)
        .Needs(Scope.Write);

    private static Task<Answer<SlotBody>> Handle(
        string series, DateParameter date, ChangeSlotRequest body,
        Caller caller, HttpRequest request, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
        ledger.Write<SlotBody>(caller.Publisher, async unit =>
        {
            if (await unit.SeriesExclusively(series) is not { } stream)
            {
                return Problems.NotFound($"series '{series}'");
            }

            if (SlotCalendar.Find(stream.State, date.Value) is not { } slot)
            {
                return Problems.NotFound($"slot of {date.Value:uuuu-MM-dd}");
            }

            var now = clock.Now;
            var marks = await ReleaseMarks.Of(unit.Documents, series, cancel);

            var problem = ETags.CheckIfMatch(request, ListSlots.Show(stream.State, slot, marks, now), isNeeded: false)
                ?? Contradiction(body)
                ?? Decide(stream, slot, body, now)
                ?? await Hold(unit, stream.State, slot, body, marks, now, cancel);

            return problem is not null
                ? problem
                : ListSlots.Show(
                    stream.State, SlotCalendar.Find(stream.State, date.Value)!, After(marks, slot.Date, body), now);
        }, cancel);

    private static Problem? Contradiction(ChangeSlotRequest body)
    {
        if (body is { MoveTo: null, GiveUp: null, Release: null, Free: null })
        {
            return Problems.Of(
                "invalid", "Say what shall become of the slot: \"moveTo\", \"giveUp\", \"release\" or \"free\".");
        }

        return body is { Release: not null, Free: true } or { GiveUp: true, MoveTo: not null }
            ? Problems.Of(
                "invalid", "A slot cannot be given to a release and freed, or moved and given up, in one request.")
            : null;
    }

    private static Problem? Decide(Stream<Series, SeriesEvent> stream, Slot slot, ChangeSlotRequest body, Instant now)
    {
        var givenUp = body.GiveUp switch
        {
            true => stream.Append(SlotDecider.GiveUp(slot, body.Reason, now)),
            false => stream.Append(SlotDecider.TakeUp(slot, now)),
            null => null,
        };

        if (givenUp is not null)
        {
            return Problems.Of(givenUp);
        }

        return body.MoveTo is { } to
            && stream.Append(
                SlotDecider.Move(stream.State, SlotCalendar.Find(stream.State, slot.Date)!, to, now)) is { } refusal
                ? Problems.Of(refusal)
                : null;
    }

    private static async Task<Problem?> Hold(
        UnitOfWork unit, Series series, Slot slot, ChangeSlotRequest body, IReadOnlyCollection<ReleaseMark> marks,
        Instant now, CancellationToken cancel)
    {
        if (body.Free is true && marks.FirstOrDefault(mark => mark.Slot == slot.Date) is { } holder)
        {
            var held = (await unit.Release(holder.Id))!;
            return held.Append(ReleaseDecider.UnassignSlot(held.State, "taken off the slot", now)) is { } refusal
                ? Problems.Of(refusal) : null;
        }

        if (body.Release is not { } id)
        {
            return null;
        }

        if (await unit.Release(id) is not { } release || release.State.Series != series.Slug)
        {
            return Problems.Of(
                "invalid", $"'{series.Title}' has no release {id}.", new ProblemError("/release", "Unknown."));
        }

        if (await SlotClaims.Check(unit, series, slot.Date, id, "/release", cancel) is { } taken)
        {
            return taken;
        }

        return release.Append(ReleaseDecider.AssignSlot(release.State, slot.Date, now)) is { } no
            ? Problems.Of(no) : null;
    }

    /// <summary>The marks as they will be once this is saved.</summary>
    private static List<ReleaseMark> After(
        IReadOnlyCollection<ReleaseMark> marks, LocalDate slot, ChangeSlotRequest body) =>
    [
        .. marks.Select(mark =>
            body.Release == mark.Id ? mark with { Slot = slot }
            : body.Free is true && mark.Slot == slot ? mark with { Slot = null }
            : mark),
    ];
}

/// <param name="MoveTo">Local date and time in the slot's zone, still to come.</param>
/// <param name="GiveUp">True: nothing will be published for it. False: it is promised again.</param>
/// <param name="Reason">Why it is given up.</param>
/// <param name="Release">The release that gets it.</param>
/// <param name="Free">True: the release that holds it loses it.</param>
internal sealed record ChangeSlotRequest(
    LocalDateTime? MoveTo = null, bool? GiveUp = null, string? Reason = null, Guid? Release = null, bool? Free = null);
