using System.Diagnostics;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Planning.Sequencing;
using Releasekit.Domain.Publishers;

namespace Releasekit.Benchmarks;

/// <summary>
/// A year of 60 releases with 9 stages each laid into the hours that are left, beside the bare order by modified due
/// (no calendar, no instants), the least that any plan has to do.
/// </summary>
internal static class PlanningBenchmark
{
    private const int Releases = 60;
    private const int Stages = 9;
    private const int Rounds = 200;
    private const int WarmUp = 200;

    private static readonly Instant Now = Instant.FromUtc(2026, 1, 5, 9, 0);

    public static Task Run()
    {
        // 32 h a release fit into a week of 40 h; 45 h do not, and then every single remedy is tried.
        foreach (var hours in new[] { 32.0, 45.0 })
        {
            var work = Work(hours);
            var pieces = work.Select(one => new Piece(
                one.Owner + one.Key, one.Effort!.Value.BclCompatibleTicks, one.DueAt!.Value.ToUnixTimeTicks())
            {
                After = [.. one.After.Select(key => one.Owner + key)],
            }).ToArray();
            var plan = Lay(work);
            var laid = Times(() => Lay(work));
            var bare = Times(() => EarliestDueDate.TryOrder(pieces, out _)!);

            Machine.Say(
                $"capacity of {work.Length} stages that {(plan.Fits ? "fit" : "do not fit")}: "
                + $"{Machine.Spread(laid, "0.00")} ms   the bare order: {Machine.Spread(bare, "0.00")} ms   "
                + $"ratio of medians {Machine.Median(laid) / Machine.Median(bare):0.0}");
        }

        return Task.CompletedTask;
    }

    /// <summary>With a calendar of its own each time, as a request has it.</summary>
    private static CapacityPlan Lay(OpenWork[] work) => CapacityPlan.TryLay(
        work, new WorkingCalendar(Publisher.UsualWeek, [], [], DateTimeZoneProviders.Tzdb["Europe/Lisbon"]), Now,
        new CapacityQuestion(), out _)!;

    private static OpenWork[] Work(double hours) =>
    [
        .. Enumerable.Range(0, Releases).SelectMany(release => Enumerable.Range(0, Stages).Select(stage => new OpenWork(
            WorkKind.Making, $"r{release}", $"s{stage}", Duration.FromHours(hours / Stages),
            Now + Duration.FromDays(7 * (release + 1)), stage == 0 ? [] : [$"s{stage - 1}"]))),
    ];

    private static List<double> Times(Func<object> run)
    {
        var times = new List<double>();

        for (var i = 0; i < WarmUp; i++)
        {
            GC.KeepAlive(run());
        }

        for (var i = 0; i < Rounds; i++)
        {
            var watch = Stopwatch.StartNew();
            GC.KeepAlive(run());
            times.Add(watch.Elapsed.TotalMilliseconds);
        }

        return times;
    }
}
