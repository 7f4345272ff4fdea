using CsCheck;
using Releasekit.Domain.Planning;

namespace Releasekit.Domain.Tests.Planning;

public sealed class CapacityPlanPropertyTests
{
    private const int RandomOrders = 1_000;

    /// <summary>
    /// Up to nine pieces of work of three releases on a random calendar, a third of them bound to a beginning.
    /// </summary>
    private static readonly Gen<(WorkingCalendar Calendar, Instant Now, OpenWork[] Work)> Any = Gen.Select(
        MinuteCalendar.Any,
        Gen.Select(Gen.Int[0, 2], Gen.Int[0, 400], Gen.Int[-900, 20_000], Gen.Int[0, 255], Gen.Int[0, 20_000])
            .Array[0, 9])
        .Select((any, rows) => (any.Calendar, any.Origin, rows.Select((row, i) => new OpenWork(
            WorkKind.Making, $"E{row.Item1}", $"s{i}", Duration.FromMinutes(row.Item2), any.At(row.Item3),
            [.. Enumerable.Range(0, i).Where(before => (row.Item4 >> before & 1) == 1).Select(before => $"s{before}")])
        {
            NotBefore = row.Item5 % 3 == 0 ? any.At(row.Item5) : null,
        }).ToArray()));

    [Fact]
    public void Sittings_do_not_overlap_lie_in_working_time_and_add_up_to_the_effort() => Any.Sample(any =>
    {
        var plan = CapacityPlan.TryLay(any.Work, any.Calendar, any.Now, new(), out _)!;
        var sittings = plan.Work.SelectMany(laid => laid.Sittings).OrderBy(sitting => sitting.Start).ToArray();

        Assert.All(sittings.Zip(sittings.Skip(1)), pair => Assert.True(pair.First.End <= pair.Second.Start));
        Assert.All(sittings, one => Assert.Equal(one.Duration, any.Calendar.Between(one.Start, one.End)));
        Assert.All(sittings, sitting => Assert.True(any.Now <= sitting.Start));
        foreach (var laid in plan.Work.Where(laid => laid.FinishesAt is not null))
        {
            Assert.Equal(
                laid.Work.Effort, laid.Sittings.Aggregate(Duration.Zero, (sum, sitting) => sum + sitting.Duration));
            Assert.Equal(laid.Sittings.Select(s => (Instant?)s.Start).FirstOrDefault(laid.StartsAt), laid.StartsAt);
            Assert.Equal(laid.Sittings.Select(s => (Instant?)s.End).LastOrDefault(laid.FinishesAt), laid.FinishesAt);
        }
    }, iter: 500);

    [Fact]
    public void Nothing_begins_before_what_it_follows_is_finished_or_before_its_time() => Any.Sample(any =>
    {
        var plan = CapacityPlan.TryLay(any.Work, any.Calendar, any.Now, new(), out _)!;

        foreach (var laid in plan.Work.Where(laid => laid.StartsAt is not null))
        {
            Assert.True(laid.Work.NotBefore is null || laid.Work.NotBefore <= laid.StartsAt);
            Assert.All(
                plan.Work.Where(o => o.Work.Owner == laid.Work.Owner && laid.Work.After.Contains(o.Work.Key)),
                before => Assert.True(before.Work.Effort == Duration.Zero || before.FinishesAt <= laid.StartsAt));
        }
    }, iter: 500);

    [Fact]
    public void No_random_order_that_can_be_worked_is_short_of_less() =>
        Gen.Select(Any, Gen.Int[0, int.MaxValue]).Sample((any, seed) =>
        {
            var day = Duration.FromDays(1);
            OpenWork[] work = [.. any.Work.Select(one => one with { NotBefore = null, DueAt = one.DueAt + day })];
            var random = new Random(seed);

            var plan = CapacityPlan.TryLay(work, any.Calendar, any.Now, new(), out _)!;

            for (var order = 0; order < RandomOrders; order++)
            {
                Assert.True(plan.Shortfall <= ShortfallOf(work, any.Calendar, any.Now, random));
            }
        }, iter: 50);

    [Fact]
    public void A_release_named_as_remedy_is_one() => Any.Sample(any =>
    {
        var plan = CapacityPlan.TryLay(any.Work, any.Calendar, any.Now, new(), out _)!;
        var owners = any.Work.Select(work => work.Owner).Distinct();

        Assert.Equal(
            owners.Where(owner => !plan.Fits
                && CapacityPlan.TryLay(any.Work, any.Calendar, any.Now, new(owner), out _)!.Fits).Order(),
            plan.Remedies.Order());
    }, iter: 300);

    private static Duration ShortfallOf(OpenWork[] work, WorkingCalendar calendar, Instant now, Random random)
    {
        var left = work.ToList();
        var (clock, most) = (Duration.Zero, Duration.Zero);

        while (left.Count > 0)
        {
            var free = left.Where(one => !left.Any(o => o.Owner == one.Owner && one.After.Contains(o.Key))).ToArray();
            var next = free[random.Next(free.Length)];
            left.Remove(next);
            clock += next.Effort!.Value;
            var due = Duration.Max(Duration.Zero, calendar.Between(now, next.DueAt!.Value)!.Value);
            most = Duration.Max(most, clock - due);
        }

        return most;
    }
}
