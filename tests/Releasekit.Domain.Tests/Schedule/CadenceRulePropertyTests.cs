using CsCheck;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class CadenceRulePropertyTests
{
    private static readonly LocalDate Origin = new(2020, 1, 1);
    private static readonly string[] Days = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

    private static readonly Gen<LocalDate> GenDate = Gen.Int[0, 3000].Select(Origin.PlusDays);

    [Fact]
    public void Dates_are_ordered_inside_the_window_and_those_a_calendar_shows() =>
        Gen.Select(
                Gen.OneOf("DAILY", "WEEKLY", "MONTHLY"), Gen.Int[1, 5], Gen.Int[0, 127], Gen.Int[1, 31], GenDate,
                Gen.Select(GenDate, Gen.Int[0, 900]))
            .Sample((frequency, interval, days, monthDay, start, window) =>
            {
                var (from, to) = (window.Item1, window.Item1.PlusDays(window.Item2));
                var rrule = Write(frequency, interval, days, monthDay);
                var expected = Walk(start, from, to)
                    .Where(date => IsSlot(date, start, frequency, interval, days, monthDay))
                    .ToList();

                var rule = CadenceRule.TryParse(rrule, start, out _);

                // Only a rule that can never match has no dates: every seventh day from a Wednesday, on Tuesdays.
                Assert.True(rule is not null || expected.Count == 0, rrule);
                Assert.Equal(expected, rule?.Between(from, to) ?? []);
            }, iter: 1000);

    [Fact]
    public void Neighbours_agree_with_the_window() =>
        Gen.Select(Gen.OneOf("FREQ=WEEKLY;BYDAY=MO,FR", "FREQ=MONTHLY;BYDAY=-1TH", "FREQ=DAILY;INTERVAL=9"), GenDate)
            .Sample((rrule, date) =>
            {
                var rule = CadenceRule.TryParse(rrule, Origin, out _)!;
                Assert.Equal(rule.Between(date.PlusDays(1), date.PlusDays(99))[0], rule.After(date));
                Assert.Equal(
                    rule.Between(Origin, date).Select(slot => (LocalDate?)slot).LastOrDefault(), rule.Before(date));
                Assert.Equal(rule.Between(date, date.PlusDays(1)).Count == 1, rule.Contains(date));
            }, iter: 500);

    private static string Write(string frequency, int interval, int days, int monthDay)
    {
        var chosen = string.Join(',', Days.Where((_, index) => (days >> index & 1) == 1));
        return $"FREQ={frequency};INTERVAL={interval}"
            + (frequency == "MONTHLY" ? $";BYMONTHDAY={monthDay}" : chosen.Length > 0 ? $";BYDAY={chosen}" : "");
    }

    private static IEnumerable<LocalDate> Walk(LocalDate start, LocalDate from, LocalDate to)
    {
        for (var date = LocalDate.Max(start, from); date < to; date = date.PlusDays(1))
        {
            yield return date;
        }
    }

    private static bool IsSlot(LocalDate date, LocalDate start, string frequency, int interval, int days, int monthDay)
    {
        var onDay = (days >> ((int)date.DayOfWeek - 1) & 1) == 1;
        return frequency switch
        {
            "DAILY" => Period.DaysBetween(start, date) % interval == 0 && (days == 0 || onDay),
            "WEEKLY" => Period.DaysBetween(MondayOf(start), date) / 7 % interval == 0
                && (days == 0 ? date.DayOfWeek == start.DayOfWeek : onDay),
            _ => ((date.Year - start.Year) * 12 + date.Month - start.Month) % interval == 0 && date.Day == monthDay,
        };
    }

    private static LocalDate MondayOf(LocalDate date) => date.PlusDays(1 - (int)date.DayOfWeek);
}
