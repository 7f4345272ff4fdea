using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Demo;

/// <summary>
/// What goes on beside the series: the <em>Estuary sound atlas</em>, started twelve weeks ago, half done and promised
/// anew once, and two candidates for later. All of it follows from the day it is told.
/// </summary>
internal sealed class SideProjects(LocalDate today, DateTimeZone zone)
{
    private const string Projects = "/v1/projects";
    private const string Atlas = $"{Projects}/{{atlas}}";

    private LocalDate FirstPromise => today.PlusDays(42);

    /// <summary>Everything that was done for them, in order.</summary>
    public IEnumerable<Deed> Deeds() => [.. Proposals(), .. Plan(), .. Work()];

    private IEnumerable<Deed> Proposals()
    {
        yield return new(
            OnDay(-96, 20, 15), HttpMethod.Post, Projects,
            new { title = "Estuary sound atlas", rank = 3, note = "Listeners keep asking where it was recorded." },
            "atlas");
        yield return new(
            OnDay(-95, 21, 40), HttpMethod.Post, Projects,
            new { title = "Night walk by ear, for twelve listeners", rank = 3 });
        yield return new(
            OnDay(-61, 20, 5), HttpMethod.Post, Projects,
            new { title = "A printed year of tides", rank = 1, note = "Only if the atlas sells." });
    }

    private IEnumerable<Deed> Plan()
    {
        (string What, int Day)[] steps =
        [
            ("List forty places between the bar and the weir", -75),
            ("Record the north shore", -50),
            ("Record the south shore from the ferry", -28),
            ("Draw the map", 25),
            ("Write a paragraph for each place", 50),
            ("Show it to the harbour school", 80),
        ];

        foreach (var (i, (what, day)) in steps.Index())
        {
            yield return new(
                OnDay(-90, 20, 30 + i), HttpMethod.Post, $"{Atlas}/steps", new { what, when = today.PlusDays(day) });
        }

        yield return new(
            OnDay(-84, 19, 0), HttpMethod.Post, $"{Atlas}/start",
            new { goal = "Forty places of the estuary to be heard on one map", finishBy = FirstPromise });
    }

    private IEnumerable<Deed> Work()
    {
        yield return Done("s1", -74);
        yield return Done("s2", -47);
        yield return new(
            OnDay(-30, 21, 10), HttpMethod.Patch, Atlas,
            new { finishBy = FirstPromise.PlusDays(28), finishByReason = "the ferry is in dock for four weeks" },
            Changes: true);
        yield return Done("s3", -6);
    }

    private Deed Done(string step, int day) => new(
        OnDay(day, 20, 45), HttpMethod.Patch, $"{Atlas}/steps/{step}", new { done = true }, Changes: true, Tag: Atlas);

    private Instant OnDay(int day, int hour, int minute) =>
        LocalTimes.ToInstant(today.PlusDays(day).At(new LocalTime(hour, minute)), zone);
}
