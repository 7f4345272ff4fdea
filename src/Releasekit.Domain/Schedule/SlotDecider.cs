namespace Releasekit.Domain.Schedule;

/// <summary>What may be decided about a single slot. After its time, such decisions leave what was promised.</summary>
public static class SlotDecider
{
    /// <summary>
    /// Moves a slot to another local time of its zone.
    /// Refuses: <c>slot.move_past</c>, <c>slot.occupied</c>, <c>slot.given_up</c>.
    /// </summary>
    public static Decision<SeriesEvent> Move(Series series, Slot slot, LocalDateTime to, Instant now)
    {
        var zone = LocalTimes.FindZone(slot.Zone)!;
        var at = LocalTimes.ToInstant(to, zone);

        if (at == slot.At)
        {
            return [];
        }

        if (slot.WasGivenUp)
        {
            return new Refusal(
                "slot.given_up",
                $"The slot of {slot.Date:uuuu-MM-dd} was given up; take it up again (\"giveUp\": false) first.");
        }

        if (at < now)
        {
            return Refusal.NotAcceptable(
                "slot.move_past", $"{to:uuuu-MM-dd HH:mm} is past; a slot moves to a time that is still to come.",
                "/moveTo");
        }

        return OthersOn(series, slot, to.Date, zone) is { } other
            ? new Refusal(
                "slot.occupied",
                $"On {to.Date:uuuu-MM-dd} stands the slot of {other.Date:uuuu-MM-dd} already; one slot a day.")
            : [new SlotMoved(slot.Date, to, now)];
    }

    /// <summary>Gives a slot up; a second time changes nothing. Refuses: <c>reason.invalid</c>.</summary>
    public static Decision<SeriesEvent> GiveUp(Slot slot, string? reason, Instant now)
    {
        if (slot.WasGivenUp)
        {
            return [];
        }

        return Wording.FaultOfText(reason, "A reason") is { } fault
            ? Refusal.NotAcceptable("reason.invalid", fault, "/reason")
            : [new SlotGivenUp(slot.Date, reason, now)];
    }

    /// <summary>Promises a slot again that was given up; one that was not stays as it is.</summary>
    public static Decision<SeriesEvent> TakeUp(Slot slot, Instant now) =>
        slot.WasGivenUp ? [new SlotTakenUp(slot.Date, now)] : [];

    /// <summary>The slot that comes on that date by its rule, or that was moved there.</summary>
    private static Slot? OthersOn(Series series, Slot slot, LocalDate date, DateTimeZone zone)
    {
        // A day to each side: two rules may count their days in two zones.
        var (from, to) = (date.PlusDays(-1), date.PlusDays(2));
        var moved = series.SlotChanges
            .Where(change => change.To?.Date >= from && change.To?.Date < to)
            .Select(change => change.Slot)
            .Distinct()
            .Select(other => SlotCalendar.Find(series, other))
            .OfType<Slot>();

        return SlotCalendar
            .Between(series, from, to)
            .Concat(moved)
            .FirstOrDefault(other => other.Date != slot.Date && other.At.InZone(zone).Date == date);
    }
}
