using System.Diagnostics;
using CsCheck;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class SlotMatchingTests
{
    private static readonly Instant Origin = Instant.FromUtc(2024, 1, 1, 0, 0);

    private static readonly Gen<int[]> GenTimes = Gen.Int[0, 20].Array[0, 6].Select(times => times.Order().ToArray());

    [Fact]
    public void The_matching_is_the_best_of_all_that_keep_the_order() =>
        Gen.Select(GenTimes, GenTimes, Gen.Select(Gen.Int[0, 6], Gen.Int[0, 8]).Array[6])
            .Sample((slotTimes, times, windows) =>
            {
                MatchableSlot[] slots = [.. slotTimes.Zip(windows, (at, days) => Slot(at, days.Item1, days.Item2))];
                Instant[] publications = [.. times.Select(At)];

                var best = Every(slots, publications, 0, 0).Max(pairs => Worth(pairs, slots, publications));

                Assert.Equal(best, Worth(SlotMatching.Match(slots, publications), slots, publications));
            }, iter: 3000);

    [Fact]
    public void With_windows_of_one_size_no_matching_out_of_order_is_better() =>
        Gen.Select(GenTimes.Select(t => t.Take(5).ToArray()), GenTimes, Gen.Int[0, 6], Gen.Int[0, 8])
            .Sample((slotTimes, times, early, late) =>
            {
                MatchableSlot[] slots = [.. slotTimes.Select(at => Slot(at, early, late))];
                Instant[] publications = [.. times.Select(At)];

                var best = EveryOrder(slots, publications, 0, []).Max(pairs => Worth(pairs, slots, publications));

                Assert.Equal(best, Worth(SlotMatching.Match(slots, publications), slots, publications));
            }, iter: 1000);

    [Fact]
    public void Both_ends_of_the_windows_are_included()
    {
        MatchableSlot[] slots = [Slot(10, 2, 3)];

        Assert.Single(SlotMatching.Match(slots, [At(8)]));
        Assert.Single(SlotMatching.Match(slots, [At(13)]));
        Assert.Empty(SlotMatching.Match(slots, [At(8) - Duration.Epsilon]));
        Assert.Empty(SlotMatching.Match(slots, [At(13) + Duration.Epsilon]));
    }

    [Fact]
    public void Of_equally_good_slots_the_earlier_gets_the_publication() =>
        Assert.Equal([new SlotPairing(0, 0)], SlotMatching.Match([Slot(0, 4, 4), Slot(6, 4, 4)], [At(3)]));

    [Fact]
    public void Of_equally_good_publications_the_earlier_gets_the_slot() =>
        Assert.Equal([new SlotPairing(0, 0)], SlotMatching.Match([Slot(5, 4, 4)], [At(4), At(6)]));

    [Fact]
    public void Lists_out_of_order_are_a_mistake_of_the_caller()
    {
        Assert.Throws<ArgumentException>(() => SlotMatching.Match([Slot(1, 1, 1), Slot(0, 1, 1)], []));
        Assert.Throws<ArgumentException>(() => SlotMatching.Match([], [At(1), At(0)]));
    }

    [Fact]
    public void Sixty_years_of_weeks_are_matched_in_no_time()
    {
        MatchableSlot[] slots = [.. Enumerable.Range(0, 3000).Select(week => Slot(week * 7, 3, 6))];
        Instant[] publications =
        [
            .. Enumerable.Range(0, 3000).Select(week => At(week * 7) + Duration.FromHours(week % 90)),
        ];

        // The best of several runs: what the algorithm takes, not what the machine does meanwhile.
        var quickest = Enumerable.Range(0, 8).Min(_ =>
        {
            var watch = Stopwatch.StartNew();
            Assert.Equal(3000, SlotMatching.Match(slots, publications).Count);
            return watch.Elapsed.TotalMilliseconds;
        });

        Assert.InRange(quickest, 0, 50);
    }

    private static Instant At(int day) => Origin + Duration.FromDays(day);

    private static MatchableSlot Slot(int day, int early, int late) =>
        new(At(day), Duration.FromDays(early), Duration.FromDays(late));

    private static (int, long, int) Worth(
        IReadOnlyList<SlotPairing> pairs, MatchableSlot[] slots, Instant[] publications) =>
        (pairs.Count,
            -pairs.Sum(pair => Math.Abs(
                (publications[pair.Publication] - slots[pair.Slot].PromisedAt).BclCompatibleTicks)),
            -pairs.Sum(pair => pair.Slot));

    private static bool AreEligible(MatchableSlot slot, Instant at) =>
        at >= slot.PromisedAt - slot.Early && at <= slot.PromisedAt + slot.Late;

    private static IEnumerable<SlotPairing[]> Every(MatchableSlot[] slots, Instant[] publications, int slot, int next)
    {
        if (slot == slots.Length)
        {
            return [[]];
        }

        var taking = from publication in Enumerable.Range(next, publications.Length - next)
                     where AreEligible(slots[slot], publications[publication])
                     from rest in Every(slots, publications, slot + 1, publication + 1)
                     select (SlotPairing[])[new SlotPairing(slot, publication), .. rest];
        return Every(slots, publications, slot + 1, next).Concat(taking);
    }

    private static IEnumerable<SlotPairing[]> EveryOrder(
        MatchableSlot[] slots, Instant[] publications, int slot, int[] used)
    {
        if (slot == slots.Length)
        {
            return [[]];
        }

        var taking = from publication in Enumerable.Range(0, publications.Length).Except(used)
                     where AreEligible(slots[slot], publications[publication])
                     from rest in EveryOrder(slots, publications, slot + 1, [.. used, publication])
                     select (SlotPairing[])[new SlotPairing(slot, publication), .. rest];
        return EveryOrder(slots, publications, slot + 1, used).Concat(taking);
    }
}
