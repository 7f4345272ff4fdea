using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Schedule;

/// <summary>
/// Gives slots to releases. Whoever does holds the series exclusively until the
/// transaction ends, so that no slot is given twice.
/// </summary>
internal static class SlotClaims
{
    /// <summary>Why the slot cannot be given to <paramref name="release"/>; null when it can.</summary>
    public static async Task<Problem?> Check(
        UnitOfWork unit, Series series, LocalDate slot, Guid release, string member, CancellationToken cancel)
    {
        if (SlotCalendar.Find(series, slot) is null)
        {
            return Problems.Of(Refusal.NotAcceptable(
                "slot.unknown", $"'{series.Title}' promises no slot on {slot:uuuu-MM-dd}; {Nearest(series, slot)}.",
                member));
        }

        return await ReleaseMarks.HolderOf(unit.Documents, series.Slug, slot, cancel) is { } holder && holder != release
            ? Problems.Of("slot.taken", $"The slot of {slot:uuuu-MM-dd} is held by the release {holder}.",
                new ProblemError(member, "Held."))
            : null;
    }

    /// <summary>
    /// After a change of the rule: takes releases off slots that vanished, or
    /// moves them to the next free slots, in order.
    /// </summary>
    public static async Task<IReadOnlyList<MovedReleaseBody>> Settle(
        UnitOfWork unit, Series series, bool reassign, Instant now, CancellationToken cancel)
    {
        var marks = await ReleaseMarks.Of(unit.Documents, series.Slug, cancel);
        var lost = marks
            .Where(mark => mark.Slot is { } slot && SlotCalendar.Find(series, slot) is null)
            .OrderBy(mark => mark.Slot)
            .ToArray();
        var free = reassign ? FreeSlots(series, marks, lost.Length, now) : [];
        var moved = new List<MovedReleaseBody>();

        foreach (var (mark, i) in lost.Select((mark, i) => (mark, i)))
        {
            var stream = (await unit.Release(mark.Id))!;
            var was = mark.Slot!.Value;
            LocalDate? next = i < free.Length ? free[i] : null;

            stream.Append(next is { } slot
                ? ReleaseDecider.AssignSlot(stream.State, slot, now)
                : ReleaseDecider.UnassignSlot(stream.State, "the slot is gone with the old cadence", now));
            moved.Add(new(mark.Id, stream.State.Title, was, next));
        }

        return moved;
    }

    private static LocalDate[] FreeSlots(Series series, IReadOnlyCollection<ReleaseMark> marks, int wanted, Instant now)
    {
        var held = marks.Select(mark => mark.Slot).OfType<LocalDate>().ToHashSet();
        var today = now.InZone(series.Zone).Date;

        return [.. SlotCalendar.Between(series, today, today.PlusYears(5))
            .Where(slot => slot.Excuse is null && slot.PromisedAt > now && !held.Contains(slot.Date))
            .Select(slot => slot.Date)
            .Take(wanted)];
    }

    private static string Nearest(Series series, LocalDate date)
    {
        var near = SlotCalendar.Between(series, date.PlusYears(-1), date.PlusYears(1))
            .Select(slot => slot.Date)
            .OrderBy(other => Math.Abs(Period.DaysBetween(date, other)))
            .Take(2)
            .Order()
            .Select(other => NodaTime.Text.LocalDatePattern.Iso.Format(other))
            .ToArray();

        return near.Length == 0 ? "there is none near it" : $"near it are {string.Join(" and ", near)}";
    }
}

/// <summary>A release whose slot vanished with the old cadence.</summary>
/// <param name="Id">The id of the release.</param>
/// <param name="Title">The title of the release.</param>
/// <param name="Was">The original local date of the slot it held.</param>
/// <param name="Slot">The original local date of the slot it was moved to; null when it has none now.</param>
internal sealed record MovedReleaseBody(Guid Id, string Title, LocalDate Was, LocalDate? Slot);
