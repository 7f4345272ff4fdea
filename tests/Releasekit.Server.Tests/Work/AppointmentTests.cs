using Releasekit.Client;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Work;

/// <summary>Appointments in the diary.</summary>
public sealed class AppointmentTests(Service service)
{
    [Fact]
    public async Task A_window_shows_when_they_happen_in_it()
    {
        var client = (await service.NewPublisher()).Client;
        var weekly = await client.Appointments.Create(new(
            "Choir", new LocalDate(2026, 3, 3), new LocalTime(19, 30), Duration.FromMinutes(90),
            Sphere: Sphere.Personal, Rrule: "FREQ=WEEKLY;BYDAY=TU", Except: [new LocalDate(2026, 3, 17)])).Value();
        await client.Appointments.Create(new("Dentist", new LocalDate(2026, 4, 20), new LocalTime(9, 0))).Value();

        var march = await client.Appointments.List(new(new LocalDate(2026, 3, 10), new LocalDate(2026, 4, 1))).Value();

        // Summer time begins on 29 March: half past seven in the evening is an hour earlier in UTC from then on.
        var choir = Assert.Single(march.Items);
        Assert.Equal(weekly.Id, choir.Id);
        Assert.Equal(
            [
                (new LocalDate(2026, 3, 10), Instant.FromUtc(2026, 3, 10, 19, 30), Instant.FromUtc(2026, 3, 10, 21, 0)),
                (new LocalDate(2026, 3, 24), Instant.FromUtc(2026, 3, 24, 19, 30), Instant.FromUtc(2026, 3, 24, 21, 0)),
                (new LocalDate(2026, 3, 31), Instant.FromUtc(2026, 3, 31, 18, 30), Instant.FromUtc(2026, 3, 31, 20, 0)),
            ],
            choir.Occurrences!.Select(one => (one.Date, one.StartsAt, one.EndsAt)));
        Assert.Null((await client.Appointments.Get(weekly.Id).Value()).Occurrences);
    }

    [Fact]
    public async Task With_a_time_it_is_busy_and_an_hour_long_without_it_is_a_whole_day_and_free()
    {
        var client = (await service.NewPublisher()).Client;

        var day = new LocalDate(2026, 3, 3);

        var timed = await client.Appointments.Create(new("Call", day, new LocalTime(9, 0))).Value();
        var whole = await client.Appointments.Create(new("Birthday", day)).Value();
        var away = await client.Appointments.Create(new("Away", day, Busy: true)).Value();

        Assert.Equal((true, Duration.FromHours(1), "Europe/Lisbon"), (timed.Busy, timed.Duration, timed.Zone));
        Assert.Equal((false, Duration.FromDays(1), true), (whole.Busy, whole.Duration, away.Busy));
        var busy = await client.Appointments.List(new(Busy: true)).Value();
        Assert.Equal([timed.Id, away.Id], busy.Items.Select(appointment => appointment.Id));
    }

    [Fact]
    public async Task Windows_without_an_end_are_refused()
    {
        var client = (await service.NewPublisher()).Client;

        var from = new LocalDate(2026, 3, 3);

        var half = await client.Appointments.List(new(from)).Problem();
        var turned = await client.Appointments.List(new(from, from.PlusDays(-1))).Problem();
        var endless = await client.Appointments.List(new(from, from.PlusDays(801))).Problem();

        Assert.All([half, turned, endless], problem => Assert.Equal(400, problem.Status));
    }
}
