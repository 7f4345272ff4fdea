using System.Net;
using System.Net.Http.Headers;
using Releasekit.Client;
using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;
using Releasekit.Client.Sheets;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Sheets;

/// <summary>The sheets as data, and as pages where HTML is asked for.</summary>
public class SheetTests(Service service)
{
    private static readonly Instant Noon = Instant.FromUtc(2026, 3, 16, 12, 0);

    [Fact]
    public async Task A_month_says_what_the_lists_say()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Noon);
        var client = (await own.NewPublisher()).Client;
        await client.GivenASeries();
        var met = await client.GivenARelease("Where the mud goes", new LocalDate(2026, 3, 5));
        await client.Record(met, "publish", StageState.Completed, Instant.FromUtc(2026, 3, 5, 7, 5));
        await client.GivenARelease("Eelgrass", new LocalDate(2026, 3, 19));
        await client.Tasks.Create(new TaskValues("Invoice", "2026-03-18", Important: true)).Value();

        var month = await client.Sheets.Month("2026-03").Value();
        var slots = await client.Series
            .Slots(Scenario.Series, new LocalDate(2026, 3, 1), new LocalDate(2026, 4, 1)).Value();

        Assert.Equal(31, month.Days.Count);
        Assert.Equal(
            slots.Items.Select(slot => (slot.Date, (SlotState?)slot.State, slot.Release)),
            month.Days.SelectMany(day => day.Slots).Select(slot => (slot.Slot!.Value, slot.State, slot.Release)));
        Assert.Equal(
            ["Where the mud goes", "Eelgrass"],
            month.Matrices.SelectMany(matrix => matrix.Rows).Select(row => row.Title));
        Assert.Equal(("Invoice", true), month.Tasks.Select(task => (task.Title, task.Important)).Single());
        var line = Assert.Single(month.Series);
        Assert.Equal(("Thursdays 07:00", 1, 1, 2), (line.Cadence, line.OnTime, line.Missed, line.ToCome));
    }

    [Fact]
    public async Task A_week_lays_the_open_work_into_the_hours_that_are_left()
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Noon);
        var client = (await own.NewPublisher()).Client;
        await client.GivenASeries();
        await client.GivenARelease("Eelgrass", new LocalDate(2026, 3, 19));
        await client.Appointments.Create(new AppointmentValues(
            "Harbour office", new LocalDate(2026, 3, 16), new LocalTime(13, 0), Duration.FromHours(3),
            Busy: true)).Value();

        var week = await client.Sheets.Week("2026-W12").Value();

        // Monday from noon: an hour until the appointment, an hour after it; the outline takes two.
        Assert.Equal(
            [("12:00", "13:00", "Outline"), ("16:00", "17:00", "Outline")],
            week.Days[0].Sittings.Select(one => (
                $"{one.Begins:HH':'mm}", $"{one.Ends:HH':'mm}", one.What)));
        Assert.Equal((Duration.FromHours(34), Duration.FromHours(2)), (week.WorkingTime, week.LaidTime));
        Assert.Equal(["Harbour office"], week.Days[0].Day.Appointments.Select(one => one.Title));
    }

    [Fact]
    public async Task A_year_has_its_big_things_in_their_months()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        await client.Series.PlanBreak(
            Scenario.Series, new(new LocalDate(2031, 8, 4), new LocalDate(2031, 8, 24), "August")).Value();
        await client.Tasks.Create(new TaskValues("Tax return", "2031-10", Important: true)).Value();

        var year = await client.Sheets.Year(2031).Value();

        Assert.Equal(12, year.Months.Count);
        Assert.Equal(
            [(8, BigThingKind.Break, "Mudflat Weekly, August"), (10, BigThingKind.ImportantTask, "Tax return")],
            year.Months.SelectMany(month => month.BigThings).Select(one => (one.From.Month, one.Kind, one.Title)));
        Assert.Equal(
            [SlotState.Excused, SlotState.Excused, SlotState.Excused, SlotState.Open],
            year.Months[7].Slots.Select(slot => slot.State!.Value));
    }

    [Fact]
    public async Task A_slot_stands_in_the_month_it_was_moved_to()
    {
        var client = (await service.NewPublisher()).Client;
        await client.GivenASeries();
        await client.Series.ChangeSlot(
            Scenario.Series, new LocalDate(2031, 3, 27),
            new(MoveTo: new LocalDateTime(2031, 5, 2, 9, 0))).Value();

        var march = await client.Sheets.Month("2031-03").Value();
        var may = await client.Sheets.Month("2031-05").Value();

        Assert.DoesNotContain(
            march.Days.SelectMany(day => day.Slots), slot => slot.Slot == new LocalDate(2031, 3, 27));
        Assert.Equal(new LocalDate(2031, 3, 27), Assert.Single(may.Days[1].Slots).Slot);
    }

    [Theory]
    [InlineData("application/json", "application/json")]
    [InlineData("*/*", "application/json")]
    [InlineData("text/html", "text/html")]
    [InlineData("text/html,application/xhtml+xml,*/*;q=0.8", "text/html")]
    [InlineData("text/html;q=0.2, application/json", "application/json")]
    public async Task The_same_address_answers_data_or_a_page(string accept, string expected)
    {
        var publisher = await service.NewPublisher();
        using var request = new HttpRequestMessage(HttpMethod.Get, "/v1/sheets/month/2026-03");
        request.Headers.Accept.Clear();
        request.Headers.TryAddWithoutValidation("Accept", accept);

        using var answer = await publisher.Http.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        Assert.Equal(expected, answer.Content.Headers.ContentType!.MediaType);
    }

    [Theory]
    [InlineData("/v1/sheets/month/2026-13", "a month such as 2026-03")]
    [InlineData("/v1/sheets/week/2026-W54", "an ISO week such as 2026-W10")]
    [InlineData("/v1/sheets/year/26", "a year from 1970 to 2199")]
    public async Task A_sheet_that_is_none_is_told_what_would_be_right(string path, string right)
    {
        var publisher = await service.NewPublisher();

        using var answer = await publisher.Http.GetAsync(
            new Uri(path, UriKind.Relative), TestContext.Current.CancellationToken);
        var text = await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Equal(MediaTypeHeaderValue.Parse("application/problem+json"), answer.Content.Headers.ContentType);
        Assert.Contains(right, text, StringComparison.Ordinal);
    }
}
