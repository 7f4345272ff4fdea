using CsCheck;
using Releasekit.Domain.Schedule;
using static Releasekit.Domain.Tests.Schedule.Weekly;

namespace Releasekit.Domain.Tests.Schedule;

/// <summary>Whatever is asked of a series, in whatever order. A failure prints the seed that repeats it.</summary>
public sealed class SeriesPropertyTests
{
    private static readonly LocalDate First = new(2025, 12, 1);
    private static readonly LocalDate Last = new(2026, 8, 1);
    private static readonly string[] Rules =
        ["FREQ=WEEKLY;BYDAY=TH", "FREQ=DAILY", "FREQ=WEEKLY;BYDAY=MO,WE,FR", "FREQ=MONTHLY;BYMONTHDAY=-1",
            "FREQ=DAILY;COUNT=3"];

    private static readonly string[] Zones = ["Europe/Lisbon", "Pacific/Auckland", "America/Los_Angeles"];

    private static readonly Gen<Asked> GenCadence = Gen.Select(
        Gen.OneOf(Rules), Gen.OneOf(Zones), Gen.Int[0, 23], Gen.Int[0, 20], (rule, zone, hour, days) => new Asked(
            $"{rule} {hour}h {zone} from +{days}",
            (series, now) =>
            {
                var from = now.InZone(LocalTimes.FindZone(zone)!).Date.PlusDays(days);
                return SeriesDecider.SetCadence(series, new(rule, from, new(hour, 0), zone), from, now);
            }));

    private static readonly Gen<Asked> GenBreak = Gen.Select(
        Gen.Guid, Gen.Int[-20, 40], Gen.Int[0, 20], (id, from, days) => new Asked(
            $"break {from}+{days}",
            (series, now) => SeriesDecider.PlanBreak(series, id, Day(now, from), Day(now, from + days), null, now),
            IsRepeatable: false));

    private static readonly Gen<Asked> GenCancel = Gen.Int[0, 5].Select(which => new Asked(
        $"cancel {which}",
        (series, now) => SeriesDecider.CancelBreak(series, series.Breaks.ElementAtOrDefault(which)?.Id ?? Id, now)));

    private static readonly Gen<Asked> GenSlot = Gen.Select(
        Gen.Int[0, 3], Gen.Int[-30, 40], Gen.Int[-3, 10], Gen.Int[0, 23], (kind, date, by, hour) => new Asked(
            $"slot {date}: {kind} by {by} {hour}h",
            (series, now) => SlotCalendar.Find(series, Day(now, date)) is not { } slot ? [] : kind switch
            {
                0 => SlotDecider.GiveUp(slot, null, now),
                1 => SlotDecider.TakeUp(slot, now),
                _ => SlotDecider.Move(series, slot, slot.Date.PlusDays(by) + new LocalTime(hour, 0), now),
            }));

    private static readonly Gen<Asked> GenClose =
        Gen.Const(new Asked("close", SeriesDecider.Close));

    private static readonly Gen<(Asked, int)[]> GenRequests = Gen.Select(
        Gen.Frequency((3, GenCadence), (3, GenBreak), (1, GenCancel), (8, GenSlot), (1, GenClose)), Gen.Int[0, 200])
        .Array[1, 25];

    [Fact]
    public void What_was_promised_and_has_come_is_never_changed() => GenRequests.Sample(requests =>
    {
        var series = After();
        var now = OpenedAt;

        foreach (var (asked, hours) in requests)
        {
            now += Duration.FromHours(hours);
            var before = SlotsOf(series);
            var decision = asked.Decide(series, now);
            series = decision.Aggregate(series, (state, e) => Series.Evolve(state, state.Sequence + 1, e));
            var after = SlotsOf(series);

            Assert.Equal(Past(before, now), Past(after, now));
            Assert.All(
                before.Values.Where(slot => after.ContainsKey(slot.Date)), slot => AssertGrown(slot, after[slot.Date]));
            Assert.True(
                !asked.IsRepeatable || decision.Refusal is not null || !asked.Decide(series, now).Any(), "twice");
        }
    }, iter: 400, print: Print);

    [Fact]
    public void A_slot_is_the_same_however_it_is_looked_for() => Gen.Select(GenRequests, Gen.Int[0, 150]).Sample(
        (requests, days) =>
        {
            var series = requests.Aggregate((Series: After(), Now: OpenedAt), Decided).Series;
            var slots = SlotsOf(series);
            var from = First.PlusDays(days);

            Assert.Equal(
                slots.Values.Where(slot => slot.Date >= from && slot.Date < from.PlusDays(50)),
                SlotCalendar.Between(series, from, from.PlusDays(50)));
            Assert.All(
                Enumerable.Range(0, 60).Select(i => from.PlusDays(i)),
                date => Assert.Equal(slots.GetValueOrDefault(date), SlotCalendar.Find(series, date)));
        }, iter: 200);

    private static (Series Series, Instant Now) Decided(
        (Series Series, Instant Now) at, (Asked Asked, int Hours) request)
    {
        var now = at.Now + Duration.FromHours(request.Hours);
        return (request.Asked.Decide(at.Series, now)
            .Aggregate(at.Series, (state, e) => Series.Evolve(state, state.Sequence + 1, e)), now);
    }

    private static Dictionary<LocalDate, Slot> SlotsOf(Series series) =>
        SlotCalendar.Between(series, First, Last).ToDictionary(slot => slot.Date);

    private static IEnumerable<(LocalDate, Instant, SlotExcuse?)> Past(
        Dictionary<LocalDate, Slot> slots, Instant now) =>
        slots.Values.Where(slot => slot.PromisedAt <= now).Select(slot => (slot.Date, slot.PromisedAt, slot.Excuse));

    private static void AssertGrown(Slot before, Slot after)
    {
        Assert.True(after.Revision >= before.Revision && after.ChangedAt >= before.ChangedAt, $"{before} -> {after}");
        Assert.True(
            after.Revision > before.Revision
                || (after.At, after.Excuse, after.WasGivenUp) == (before.At, before.Excuse, before.WasGivenUp),
            $"{before} -> {after}");
    }

    private static LocalDate Day(Instant now, int days) => now.InUtc().Date.PlusDays(days);

    private static string Print((Asked What, int Hours)[] requests) =>
        string.Join("; ", requests.Select(request => $"+{request.Hours}h {request.What.What}"));

    private sealed record Asked(
        string What, Func<Series, Instant, Decision<SeriesEvent>> Decide, bool IsRepeatable = true);
}
