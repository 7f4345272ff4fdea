using NodaTime.Text;
using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Demo;

/// <summary>
/// What stands in the notebook beside releases and projects: ideas, notes, wants, tasks, appointments. All of it
/// follows from the day it is told.
/// </summary>
internal sealed class DemoNotebook(LocalDate today, DateTimeZone zone)
{
    private const string Ideas = "/v1/ideas";
    private const string Notes = "/v1/notes";
    private const string Wants = "/v1/wants";
    private const string Tasks = "/v1/tasks";
    private const string Appointments = "/v1/appointments";

    private LocalDate Monday => today.With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Monday));

    /// <summary>Everything that was noted, and what came of it.</summary>
    public IEnumerable<Deed> Deeds() =>
        [.. IdeasNoted(), .. NotesTaken(), .. ThingsWanted(), .. TasksPlanned(), .. AppointmentsMade()];

    private IEnumerable<Deed> IdeasNoted()
    {
        (int Day, object Idea)[] ideas =
        [
            (-120, new { text = "The ferry's engine, heard from the mud", tags = Of("boats"), worth = 2 }),
            (-88, new
            {
                text = "Ask the harbour master about the old tide tables\nHe keeps forty years of them in the loft.",
                tags = Of("people"),
                worth = 3,
                effort = Duration.FromHours(5),
            }),
            (-41, new
            {
                text = "Eelgrass by night",
                tags = Of("night"),
                worth = 3,
                effort = Duration.FromHours(9),
            }),
            (-19, new { text = "Quiet: ten minutes of one creek", worth = 2, effort = Duration.FromHours(2) }),
            (-8, new { text = "Who counts the gulls?", tags = Of("people", "birds") }),
            (-2, new { text = "The old tide tables of the harbour master", tags = Of("people") }),
        ];

        return ideas.Select(idea => new Deed(OnDay(idea.Day, 22, 15), HttpMethod.Post, Ideas, idea.Idea));
    }

    private IEnumerable<Deed> NotesTaken()
    {
        yield return new(OnDay(-140, 21, 0), HttpMethod.Post, Notes, new
        {
            title = "Wind",
            text = "# Wind\n\nFrom force 4 on the fur shield hums on the jetty. The weir is sheltered up to 6.",
            tags = Of("recording"),
            links = Of($"/v1/series/{DemoStory.Series}"),
        });
        yield return new(OnDay(-52, 20, 40), HttpMethod.Post, Notes, new
        {
            text = "The school can lend twelve pairs of headphones. Ask for Thursday afternoons.",
            tags = Of("atlas"),
        });
    }

    private IEnumerable<Deed> ThingsWanted()
    {
        yield return new(OnDay(-77, 22, 0), HttpMethod.Post, Wants, new
        {
            title = "Second hydrophone",
            category = "recording",
            price = new { amount = 189.5m, currency = "EUR" },
        });
        yield return new(OnDay(-60, 22, 5), HttpMethod.Post, Wants, new
        {
            title = "Waders, size 42",
            category = "clothes",
            boughtOn = today.PlusDays(-21),
        });
        yield return new(OnDay(-11, 22, 10), HttpMethod.Post, Wants, new
        {
            title = "Printed chart of the estuary",
            category = "study",
            note = "the edition with the old channel",
        });
    }

    private IEnumerable<Deed> TasksPlanned()
    {
        var quarter = FirstOfQuarter(today.PlusDays(-70));
        yield return new(OnDay(-70, 19, 30), HttpMethod.Post, Tasks, new
        {
            title = "Quarterly tax return",
            when = LocalDatePattern.CreateWithInvariantCulture("uuuu-MM").Format(quarter),
            important = true,
            effort = Duration.FromHours(2),
            rrule = "FREQ=MONTHLY;INTERVAL=3",
            note = "Which day it is due is for the tax office to say: look it up, or ask the accountant.",
            tags = Of("tax"),
        }, "tax");
        yield return new(
            LocalTimes.ToInstant(quarter.PlusDays(9).At(new LocalTime(19, 45)), zone), HttpMethod.Post,
            $"{Tasks}/{{tax}}/complete", new { });
        yield return new(OnDay(-9, 19, 0), HttpMethod.Post, Tasks, new
        {
            title = "Copy the recordings to the second disk",
            when = WeekOf(today.PlusDays(-9)),
            effort = Duration.FromMinutes(30),
            rrule = "FREQ=WEEKLY;INTERVAL=2",
        });
        yield return new(OnDay(-17, 19, 5), HttpMethod.Post, Tasks, new
        {
            title = "Write back to the listener from the lighthouse",
            when = WeekOf(Monday.PlusDays(-14)),
        });
        yield return new(OnDay(-3, 19, 10), HttpMethod.Post, Tasks, new
        {
            title = "Mend the boots",
            when = today.PlusDays(2),
            sphere = "personal",
        });
    }

    private IEnumerable<Deed> AppointmentsMade()
    {
        yield return new(OnDay(-100, 18, 30), HttpMethod.Post, Appointments, new
        {
            title = "Choir",
            date = Monday.PlusDays(-98).Next(IsoDayOfWeek.Tuesday),
            time = new LocalTime(19, 30),
            duration = Duration.FromMinutes(90),
            sphere = "personal",
            rrule = "FREQ=WEEKLY;BYDAY=TU",
        });
        yield return new(OnDay(-12, 18, 35), HttpMethod.Post, Appointments, new
        {
            title = "The harbour school comes to listen",
            date = today.PlusDays(8),
            time = new LocalTime(14, 0),
            duration = Duration.FromHours(2),
            place = "North pier",
        });
        yield return new(OnDay(-5, 18, 40), HttpMethod.Post, Appointments, new
        {
            title = "Lowest water of the month",
            date = today.PlusDays(10),
        });
    }

    private static string[] Of(params string[] texts) => texts;

    /// <summary>The first month of a quarter that is not over on that date.</summary>
    private static LocalDate FirstOfQuarter(LocalDate date) =>
        new LocalDate(date.Year, date.Month, 1).PlusMonths((3 - ((date.Month - 1) % 3)) % 3);

    private static string WeekOf(LocalDate date) =>
        Domain.Work.CalendarPeriod.Holding(Domain.Work.PeriodKind.Week, date).ToString();

    private Instant OnDay(int day, int hour, int minute) =>
        LocalTimes.ToInstant(today.PlusDays(day).At(new LocalTime(hour, minute)), zone);
}
