using NodaTime.Text;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Tests.Statistics.Flow;

public sealed class DayCountTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "b.duration.");

    /// <summary>tz database 2026f, read with zdump by the author of the case.</summary>
    [Theory]
    [MemberData(nameof(Cases))]
    public void Days_are_counted_in_three_ways(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        if (check.Inputs.TryGetProperty("start_utc", out var from))
        {
            foreach (var zone in check.Expected.GetProperty("inclusive_days").EnumerateObject())
            {
                var days = DayCount.Between(
                    Utc(from.GetString()!), Utc(check.Inputs.Text("finish_utc")),
                    DateTimeZoneProviders.Tzdb[zone.Name]);
                Assert.Equal(zone.Value.GetInt32(), days.InclusiveDays);
            }

            return;
        }

        var count = Between(check);

        check.AssertNear(check.Expected.GetProperty("elapsed_hours"), count.ElapsedHours);
        check.AssertNear(check.Expected.GetProperty("elapsed_days"), count.ElapsedDays);
        check.AssertNear(check.Expected.GetProperty("wall_clock_hours"), count.WallClockHours);
        Assert.Equal(check.Expected.Number("date_difference"), count.DateDifference);
        Assert.Equal(check.Expected.Number("inclusive_days"), count.InclusiveDays);
    }

    private static DayCount Between(CheckCase check)
    {
        var zone = DateTimeZoneProviders.Tzdb[check.Inputs.Text("tz")];
        return DayCount.Between(Local("start"), Local("finish"), zone);

        Instant Local(string name) => LocalTimes.ToInstant(
            LocalDateTimePattern.ExtendedIso.Parse(check.Inputs.Text(name)).Value, zone);
    }

    private static Instant Utc(string text) =>
        InstantPattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm'Z'").Parse(text).Value;
}
