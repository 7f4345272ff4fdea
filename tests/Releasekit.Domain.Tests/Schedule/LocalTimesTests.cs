using System.Globalization;
using NodaTime.Text;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

public sealed class LocalTimesTests
{
    private static readonly LocalDateTimePattern Minutes =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm");

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.dst.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void Daylight_saving_moves_the_instant_and_never_the_wall_clock(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        var zone = LocalTimes.FindZone(check.Inputs.Text("tz"))!;
        if (id == "a.dst.week_hours")
        {
            var (spring, autumn) = (check.Inputs.Strings("weekly_local"), check.Inputs.Strings("autumn"));
            Assert.Equal(check.Expected.Numbers("hours_spring"), HoursBetween(spring, zone));
            Assert.Equal(check.Expected.Numbers("hours_autumn"), HoursBetween(autumn, zone));
            Assert.Equal(check.Expected.Numbers("local_date_gaps"), DaysBetween(spring));
            Assert.Equal(check.Expected.Numbers("local_date_gaps"), DaysBetween(autumn));
            return;
        }

        Instant[] instants = [.. check.Inputs.Strings("local").Select(local => ToInstant(local, zone))];

        Assert.Equal(check.Expected.Strings("utc"), instants.Select(instant =>
            instant.ToString("uuuu-MM-dd'T'HH:mm'Z'", CultureInfo.InvariantCulture)));
        Assert.Equal(check.Expected.Strings("local_read_back"), instants.Select(instant =>
            instant.InZone(zone).ToString("uuuu-MM-dd'T'HH:mmo<+HH:mm>", CultureInfo.InvariantCulture)));
    }

    [Fact]
    public void A_zone_is_found_by_its_iana_id_and_unknown_ones_are_null()
    {
        Assert.Equal("Europe/Lisbon", LocalTimes.FindZone("Europe/Lisbon")?.Id);
        Assert.Null(LocalTimes.FindZone("Europe/Atlantis"));
        Assert.Null(LocalTimes.FindZone(""));
    }

    private static Instant ToInstant(string local, DateTimeZone zone) =>
        LocalTimes.ToInstant(Minutes.Parse(local).Value, zone);

    private static double[] DaysBetween(string[] locals)
    {
        LocalDate[] dates = [.. locals.Select(local => Minutes.Parse(local).Value.Date)];
        return [.. dates.Zip(dates.Skip(1), (one, next) => (double)Period.DaysBetween(one, next))];
    }

    private static double[] HoursBetween(string[] locals, DateTimeZone zone)
    {
        Instant[] instants = [.. locals.Select(local => ToInstant(local, zone))];
        return [.. instants.Zip(instants.Skip(1), (one, next) => (next - one).TotalHours)];
    }
}
