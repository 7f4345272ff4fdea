using Releasekit.Domain.Schedule;
using Releasekit.Server.Publishers;

namespace Releasekit.Server.Demo;

/// <summary>
/// The invented year and a half of <em>Mudflat Weekly</em>, an audio series about tidal estuaries, promised every
/// Thursday
/// at 07:00 in Lisbon: mostly kept, sometimes late, with an August break, a slot moved, one given up and one missed.
/// Dates
/// follow from the day it is told; everything else from the seed.
/// </summary>
internal static class DemoStory
{
    public const string Publisher = "mudflat";
    public const string PublisherName = "Mudflat Audio";
    public const string ZoneId = "Europe/Lisbon";
    public const string Series = "mudflat-weekly";

    private const ulong Seed = 0x6D7564;
    private const int Weeks = 78;
    private const int InTheBank = 2;
    private const int Planned = 5;
    private const int TranscriptsFrom = 27;
    private const int MovedWeek = 12;
    private const int GivenUpWeek = 23;
    private const int ForgottenWeek = 41;
    private const int ExtraWeek = 34;
    private const string SeriesPath = $"/v1/series/{Series}";

    private static readonly Weekday[] Evenings =
        [Weekday.Monday, Weekday.Tuesday, Weekday.Wednesday, Weekday.Thursday, Weekday.Sunday];
    private static readonly LocalTime SlotTime = new(7, 0);
    private static readonly Dictionary<int, int> HoursLate =
        new() { [4] = 31, [9] = 52, [17] = 27, [29] = 75, [38] = 29, [47] = 34, [56] = 98, [66] = 26, [73] = 40 };
    private static readonly Dictionary<int, Mishap> Mishaps = new()
    {
        [6] = Mishap.Wind,
        [14] = Mishap.Hum,
        [19] = Mishap.NotesFirst,
        [25] = Mishap.Wind,
        [31] = Mishap.WrongTime,
        [36] = Mishap.NoLetter,
        [44] = Mishap.Hum,
        [52] = Mishap.Wind,
        [61] = Mishap.NoLetter,
        [70] = Mishap.Hum,
        [75] = Mishap.Wind,
    };

    /// <summary>When the story begins: some weeks before its first slot.</summary>
    public static Instant BeginsAt(LocalDate today) => AtNoon(FirstThursday(today).PlusDays(-20));

    /// <summary>The requests that tell it up to <paramref name="now"/>, in the order of their times.</summary>
    public static IReadOnlyList<Deed> Tell(Instant now)
    {
        var zone = LocalTimes.FindZone(ZoneId)!;
        var first = FirstThursday(now.InZone(zone).Date);
        var chance = new Chance(Seed);
        var deeds = Opening(first).Concat(Decisions(first, zone)).ToList();
        var number = 0;

        for (var week = 0; week < Weeks + InTheBank + Planned; week++)
        {
            if (IsFree(first, week))
            {
                continue;
            }

            var episode = EpisodeOf(first, week, ++number, zone, chance);
            deeds.AddRange(week < Weeks ? episode.Deeds() : Ahead(episode, week, now));

            if (week == SecondPlan(first) - 1)
            {
                deeds.Add(Adopt(first, number));
            }

            if (week == ExtraWeek)
            {
                deeds.AddRange(Extra(++number, first, zone, chance).Deeds());
            }
        }

        deeds.AddRange(SecondThoughts(first, number - 2, now));
        deeds.AddRange(new SideProjects(now.InZone(zone).Date, zone).Deeds());
        deeds.AddRange(new DemoNotebook(now.InZone(zone).Date, zone).Deeds());

        return [.. deeds.Where(deed => deed.At <= now).OrderBy(deed => deed.At)];
    }

    private static Episode EpisodeOf(LocalDate first, int week, int number, DateTimeZone zone, Chance chance)
    {
        var late = HoursLate.TryGetValue(week, out var hours)
            ? Duration.FromHours(hours) + chance.Minutes(0, 55)
            : chance.Minutes(-12, 95);

        return new(
            number, SlotOf(first, week), DueOf(first, week, zone), late, week >= SecondPlan(first) - 1,
            Mishaps.GetValueOrDefault(week), zone, chance);
    }

    private static Deed Adopt(LocalDate first, int number) => new(
        SecondPlanAt(first) + Duration.FromMinutes(5),
        HttpMethod.Patch,
        $"/v1/releases/{{episode {number}}}",
        new { planVersion = 2 },
        Changes: true);

    /// <summary>What stands ready or is begun today: told as done by now, however far its slot is.</summary>
    private static IEnumerable<Deed> Ahead(Episode episode, int week, Instant now)
    {
        var making = episode.Deeds().Where(deed => deed.At < episode.Due - Duration.FromMinutes(30));
        var back = Duration.FromDays(7 * (week - Weeks + 1));

        return week switch
        {
            < Weeks + InTheBank =>
                making.Select(deed => deed with { At = Instant.Min(deed.At - back, now - Duration.FromHours(2)) }),
            Weeks + InTheBank =>
                making.Take(3).Select(
                    deed => deed with { At = Instant.Min(deed.At - back, now - Duration.FromHours(1)) }),
            _ => making.Take(1).Select(deed => deed with { At = deed.At - Duration.FromDays(6 * (week - Weeks + 1)) }),
        };
    }

    /// <summary>A release that came to nothing, and one that was given up too soon.</summary>
    private static IEnumerable<Deed> SecondThoughts(LocalDate first, int doubted, Instant now)
    {
        var whale = AtNoon(SlotOf(first, 20));
        var release = $"/v1/releases/{{episode {doubted}}}";

        yield return new(
            whale, HttpMethod.Post, "/v1/releases", new { series = Series, title = "A whale in the roads, perhaps" },
            "whale");
        yield return new(
            whale + Duration.FromDays(5), HttpMethod.Post, "/v1/releases/{whale}/drop",
            new { reason = "it was a log" });
        yield return new(
            now - Duration.FromDays(3), HttpMethod.Post, $"{release}/drop",
            new { reason = "the weir is closed for repairs" });
        yield return new(now - Duration.FromDays(1), HttpMethod.Post, $"{release}/restore", new { });
    }

    private static IEnumerable<Deed> Opening(LocalDate first)
    {
        var begin = AtNoon(first.PlusDays(-20));

        yield return new(begin, HttpMethod.Patch, "/v1/publisher", Week(first), Changes: true);
        yield return new(begin, HttpMethod.Post, "/v1/stage-plans", DemoPlan.First);
        yield return new(begin, HttpMethod.Post, "/v1/series", new
        {
            id = Series,
            title = "Mudflat Weekly",
            stagePlan = DemoPlan.Id,
            cadence = new { rrule = "FREQ=WEEKLY;BYDAY=TH", start = first, time = SlotTime, zone = ZoneId },
        });
    }

    /// <summary>Evenings and Saturday mornings, as somebody works who has another job.</summary>
    private static object Week(LocalDate first) => new
    {
        workingWeek = Evenings
            .Select(day => new WorkingHoursBody(day, new(18, 0), new(21, 30)))
            .Append(new(Weekday.Saturday, new(8, 30), new(13, 0))),
        daysOff =
            new LocalDate[] { new(first.Year, 12, 25), new(first.Year + 1, 1, 1), new(first.Year + 1, 12, 25) },
    };

    private static IEnumerable<Deed> Decisions(LocalDate first, DateTimeZone zone)
    {
        yield return new(
            SecondPlanAt(first), HttpMethod.Put, $"/v1/stage-plans/{DemoPlan.Id}", DemoPlan.Second, Changes: true);
        yield return new(
            DueOf(first, Outside(first, MovedWeek), zone) - Duration.FromDays(4), HttpMethod.Put, SlotPath(
                first, Outside(first, MovedWeek)),
            new { moveTo = SlotOf(first, Outside(first, MovedWeek)).PlusDays(2).At(new LocalTime(9, 0)) });
        yield return new(
            DueOf(first, Outside(first, GivenUpWeek), zone) - Duration.FromDays(5), HttpMethod.Put, SlotPath(
                first, Outside(first, GivenUpWeek)),
            new { giveUp = true, reason = "the recorder is at the repair shop" });

        foreach (var year in new[] { first.Year, first.Year + 1 })
        {
            var (from, to) = August(year);

            if (from > first && from < SlotOf(first, Weeks))
            {
                yield return new(
                    AtNoon(
                        from.PlusDays(-30)), HttpMethod.Post, $"{SeriesPath}/breaks", new
                        {
                            from,
                            to,
                            reason =
                            "August"
                        });
            }
        }
    }

    private static Episode Extra(int number, LocalDate first, DateTimeZone zone, Chance chance) => new(
        number, null, LocalTimes.ToInstant(
            SlotOf(first, ExtraWeek).PlusDays(3).At(
                new LocalTime(18, 0)), zone), chance.Minutes(0, 30), true, Mishap.None, zone, chance);

    /// <summary>Weeks for which no episode is made: the break, the slot given up, the one that was forgotten.</summary>
    private static bool IsFree(LocalDate first, int week)
    {
        return week == Outside(first, GivenUpWeek) || week == Outside(first, ForgottenWeek) || IsInBreak(first, week);
    }

    /// <summary>
    /// The first week planned with the second stage plan; the episode before it, in hand then, adopts it.
    /// </summary>
    private static int SecondPlan(LocalDate first) => Enumerable.Range(TranscriptsFrom, Weeks)
        .First(week => !IsFree(first, week) && !IsFree(first, week - 1));

    private static Instant SecondPlanAt(LocalDate first) => AtNoon(SlotOf(first, SecondPlan(first)).PlusDays(-18));

    /// <summary>That week, or the first one after the August break it falls into.</summary>
    private static int Outside(LocalDate first, int week) => IsInBreak(first, week) ? Outside(first, week + 1) : week;

    private static bool IsInBreak(LocalDate first, int week)
    {
        var date = SlotOf(first, week);
        var (from, to) = August(date.Year);

        return week < Weeks && from > first && date >= from && date <= to;
    }

    private static (LocalDate From, LocalDate To) August(int year) => (new(year, 8, 3), new(year, 8, 23));

    private static LocalDate FirstThursday(LocalDate today) =>
        today.With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Thursday)).PlusWeeks(-(Weeks - 1));

    private static LocalDate SlotOf(LocalDate first, int week) => first.PlusWeeks(week);

    private static string SlotPath(LocalDate first, int week) =>
        $"{SeriesPath}/slots/{NodaTime.Text.LocalDatePattern.Iso.Format(SlotOf(first, week))}";

    private static Instant DueOf(LocalDate first, int week, DateTimeZone zone) =>
        LocalTimes.ToInstant(
            week == Outside(first, MovedWeek)
                ? SlotOf(first, week).PlusDays(2).At(new LocalTime(9, 0))
                : SlotOf(first, week).At(SlotTime), zone);

    private static Instant AtNoon(LocalDate date) => date.At(LocalTime.Noon).InUtc().ToInstant();
}
