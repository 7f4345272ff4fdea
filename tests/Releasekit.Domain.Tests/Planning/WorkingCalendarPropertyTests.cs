using CsCheck;

namespace Releasekit.Domain.Tests.Planning;

public sealed class WorkingCalendarPropertyTests
{
    private const int LastMinute = 15 * 1440;

    [Fact]
    public void Working_time_is_what_counting_every_minute_gives() =>
        Gen.Select(MinuteCalendar.Any, Gen.Int[0, LastMinute].Array[6]).Sample((any, minutes) =>
        {
            var (calendar, worked) = (any.Calendar, any.Minutes());

            foreach (var (from, to) in minutes.Zip(minutes.Skip(1)))
            {
                var expected = worked[Math.Min(from, to)..Math.Max(from, to)].Count(isWorked => isWorked);
                Assert.Equal(
                    Duration.FromMinutes(from <= to ? expected : -expected),
                    calendar.Between(any.At(from), any.At(to)));
            }
        }, iter: 300);

    [Fact]
    public void Starts_and_finishes_are_those_found_minute_by_minute() =>
        Gen.Select(MinuteCalendar.Any, Gen.Int[0, LastMinute], Gen.Int[1, 3000]).Sample((any, at, work) =>
        {
            var (calendar, worked) = (any.Calendar, any.Minutes());

            if (FinishOf(worked, at, work) is { } finish)
            {
                Assert.Equal(any.At(finish), calendar.Add(any.At(at), Duration.FromMinutes(work)));
            }

            if (StartOf(worked, at, work) is { } start)
            {
                Assert.Equal(any.At(start), calendar.Subtract(any.At(at), Duration.FromMinutes(work)));
            }
        }, iter: 300);

    [Fact]
    public void Adding_and_subtracting_return_to_the_working_instant_they_came_from() =>
        Gen.Select(MinuteCalendar.Any, Gen.Int[0, LastMinute], Gen.Long[1, 400_000_000_000_000]).Sample((any, at, ns) =>
        {
            var (calendar, from, work) = (any.Calendar, any.At(at), Duration.FromNanoseconds(ns));

            if (calendar.Add(from, work) is { } finish)
            {
                Assert.Equal(calendar.NextWorkingInstant(from), calendar.Subtract(finish, work));
                Assert.Equal(work, calendar.Between(from, finish));
            }

            if (calendar.Subtract(from, work) is { } start)
            {
                Assert.Equal(calendar.PreviousWorkingInstant(from), calendar.Add(start, work));
            }
        }, iter: 1000);

    [Fact]
    public void More_work_or_a_later_start_never_finishes_earlier() =>
        Gen.Select(MinuteCalendar.Any, Gen.Int[0, LastMinute], Gen.Int[0, 900], Gen.Int[0, 3000], Gen.Int[0, 900])
            .Sample((any, at, later, work, more) =>
            {
                var calendar = any.Calendar;
                var first = calendar.Add(any.At(at), Duration.FromMinutes(work));
                var then = calendar.Add(any.At(at + later), Duration.FromMinutes(work + more));

                Assert.True(then is null || first <= then);
            }, iter: 1000);

    [Fact]
    public void Stretches_are_in_order_apart_and_add_up() =>
        Gen.Select(MinuteCalendar.Any, Gen.Int[0, LastMinute], Gen.Int[0, 9000]).Sample((any, at, minutes) =>
        {
            var (from, to) = (any.At(at), any.At(at + minutes));
            var stretches = any.Calendar.Stretches(from, to);

            Assert.All(stretches, stretch => Assert.True(from <= stretch.Start && stretch.End <= to));
            Assert.All(stretches, stretch => Assert.True(stretch.Start < stretch.End));
            Assert.All(stretches.Zip(stretches.Skip(1)), pair => Assert.True(pair.First.End < pair.Second.Start));
            Assert.Equal(
                any.Calendar.Between(from, to),
                stretches.Aggregate(Duration.Zero, (sum, stretch) => sum + stretch.Duration));
        }, iter: 500);

    /// <summary>The end of the minute in which the last of the work is done; null beyond the minutes known.</summary>
    private static int? FinishOf(bool[] worked, int at, int work)
    {
        for (var minute = at; minute < worked.Length; minute++)
        {
            if (worked[minute] && --work == 0)
            {
                return minute + 1;
            }
        }

        return null;
    }

    private static int? StartOf(bool[] worked, int at, int work)
    {
        for (var minute = at - 1; minute >= 0; minute--)
        {
            if (worked[minute] && --work == 0)
            {
                return minute;
            }
        }

        return null;
    }
}
