using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

/// <summary>The small cases of Checks/statistics.json, in days on a clock in UTC.</summary>
public sealed class MatchingCaseTests
{
    private static readonly Instant Origin = Instant.FromUtc(2024, 1, 1, 0, 0);

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.match.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void Slots_are_labelled_counted_and_rated_as_in_the_check_value(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var judged = Judge(check);

        var figures = Adherence.Summarise(judged, LocalDate.MinIsoValue, LocalDate.MaxIsoValue);

        Assert.Equal(check.Expected.Strings("labels"), judged.Slots.Select(slot => Label(slot.Status)));
        Assert.Equal(
            (Count(check, "on_time"), Count(check, "late"), Count(check, "missed"), Count(check, "overdue")),
            (figures.OnTime, figures.Late, figures.Missed, figures.Overdue));
        Assert.Equal(
            (Count(check, "extra"), Count(check, "due"),
                Count(check, "current_streak"), Count(check, "longest_streak")),
            (figures.Extra, figures.Due, figures.CurrentStreak, figures.LongestStreak));
        check.AssertNear(check.Expected.GetProperty("on_time_rate"), figures.OnTimeRate.Value);
        check.AssertNear(check.Expected.GetProperty("wilson95")[0], figures.OnTimeRate.Low);
        check.AssertNear(check.Expected.GetProperty("wilson95")[1], figures.OnTimeRate.High);
        check.AssertNear(check.Expected.GetProperty("total_abs_deviation"),
            judged.Slots.Sum(slot => Math.Abs(slot.Lateness?.TotalDays ?? 0)));
        Assert.Equal(Pairs(check), judged.Slots
            .Select((slot, index) => (Slot: index, slot.PublishedAt))
            .Where(pair => pair.PublishedAt is not null)
            .Select(pair => (pair.Slot, At: pair.PublishedAt!.Value)));
    }

    private static JudgedHistory Judge(CheckCase check)
    {
        var (early, late) = (Days(check.Inputs.Number("early")), Days(check.Inputs.Number("late")));
        var slots = check.Inputs.Numbers("slots").Select(day => new PromisedSlot(
            LocalAt(day).Date, At(day), IsExcused: false, HeldBy: null, early, late));
        var publications = check.Inputs.Numbers("publications").Select(day =>
            new Publication(Guid.NewGuid(), At(day), LocalAt(day), SlotDate: null));
        return SlotJudgement.Judge([.. slots], [.. publications],
            Days(check.Inputs.Number("tolerance_days")), At(check.Inputs.Number("now")));
    }

    private static IEnumerable<(int, Instant)> Pairs(CheckCase check)
    {
        var published = check.Inputs.Numbers("publications");
        return check.Expected.GetProperty("pairs").EnumerateArray()
            .Select(pair => (pair[0].GetInt32(), At(published[pair[1].GetInt32()])));
    }

    private static int Count(CheckCase check, string name) => check.Expected.GetProperty(name).GetInt32();

    private static Duration Days(double days) => Duration.FromDays(days);

    // "Never ends" is written as a day far beyond the calendar.
    private static Instant At(double day) => Origin + Days(Math.Min(day, 100_000));

    private static LocalDateTime LocalAt(double day) => At(day).InUtc().LocalDateTime;

    private static string Label(SlotStatus status) => status switch
    {
        SlotStatus.Met => "on_time",
        SlotStatus.Open or SlotStatus.Held => "future",
        _ => status.ToString().ToLowerInvariant(),
    };
}
