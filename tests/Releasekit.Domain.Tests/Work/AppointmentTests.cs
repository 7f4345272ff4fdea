using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>When appointments happen.</summary>
public sealed class AppointmentTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 1, 1, 12, 0);

    /// <summary>RFC 5545, 3.8.5.3: "every other week on Tuesday and Thursday, for 8 occurrences" in New York, with its
    /// dates; and 3.8.5.1 for the excepted one.</summary>
    [Fact]
    public void A_rule_happens_at_the_local_time_in_summer_and_in_winter()
    {
        var appointment = new Appointment(Guid.NewGuid(), "Tide gauge", new LocalDate(1997, 9, 2), Now)
        {
            Time = new LocalTime(9, 0),
            Zone = "America/New_York",
            Rule = "FREQ=WEEKLY;INTERVAL=2;COUNT=8;WKST=SU;BYDAY=TU,TH",
            Except = [new LocalDate(1997, 9, 18)],
        };

        var times = appointment.Within(new(Instant.FromUtc(1997, 1, 1, 0, 0), Instant.FromUtc(1998, 12, 31, 0, 0)));

        // Offsets as the RFC's table has them: four hours until the last Sunday of October, five after it.
        Assert.Equal(
            [
                Instant.FromUtc(1997, 9, 2, 13, 0), Instant.FromUtc(1997, 9, 4, 13, 0),
                Instant.FromUtc(1997, 9, 16, 13, 0), Instant.FromUtc(1997, 9, 30, 13, 0),
                Instant.FromUtc(1997, 10, 2, 13, 0), Instant.FromUtc(1997, 10, 14, 13, 0),
                Instant.FromUtc(1997, 10, 16, 13, 0),
            ],
            times.Select(occurrence => occurrence.Time.Start));
    }

    [Fact]
    public void A_whole_day_lasts_from_midnight_to_midnight_when_the_clocks_change()
    {
        var appointment = new Appointment(Guid.NewGuid(), "Open day", new LocalDate(2026, 3, 28), Now)
        {
            Length = Duration.FromDays(2),
            Zone = "Europe/Lisbon",
        };

        var time = appointment.Within(new(Instant.FromUtc(2026, 3, 29, 20, 0), Instant.FromUtc(2026, 3, 30, 0, 0)));

        Assert.Equal(
            new Interval(Instant.FromUtc(2026, 3, 28, 0, 0), Instant.FromUtc(2026, 3, 29, 23, 0)), time.Single().Time);
    }

    [Theory]
    [InlineData(8, 9, 0)]
    [InlineData(8, 10, 1)]
    [InlineData(10, 11, 1)]
    [InlineData(11, 12, 0)]
    public void It_is_in_a_window_that_it_overlaps(int from, int to, int expected)
    {
        // Nine to eleven in UTC.
        var appointment = new Appointment(Guid.NewGuid(), "Dentist", new LocalDate(2026, 3, 5), Now)
        {
            Time = new LocalTime(9, 0),
            Length = Duration.FromHours(2),
        };

        Assert.Equal(expected, appointment.Within(
            new(Instant.FromUtc(2026, 3, 5, from, 0), Instant.FromUtc(2026, 3, 5, to, 0))).Count);
    }

    [Fact]
    public void What_makes_no_sense_is_named_member_by_member()
    {
        var appointment = new Appointment(Guid.NewGuid(), "", new LocalDate(1960, 1, 1), Now)
        {
            Length = Duration.FromHours(5),
            Zone = "Lisbon",
            Rule = "FREQ=HOURLY",
            Place = "two\nlines",
        };

        var refusal = appointment.Check(Now);

        Assert.Equal(
            ["/title", "/date", "/zone", "/duration", "/rrule", "/place"],
            refusal!.Faults.Select(fault => fault.Member));
    }
}
