using Releasekit.Client;
using Releasekit.Client.Plans;
using Releasekit.Client.Publishers;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Learning;

/// <summary>
/// A series with one stage and its publication, every Thursday 07:00 in Lisbon, and releases that were made for it; all
/// in winter, when Lisbon keeps UTC.
/// </summary>
internal static class MadeWeeks
{
    public const string Series = "short";

    /// <summary>A Monday.</summary>
    public static readonly LocalDate First = new(2026, 1, 5);

    public static async Task GivenTheSeries(
        ReleasekitClient client, Duration? effort = null, Duration? tolerance = null, Duration? least = null,
        Duration? most = null)
    {
        await client.StagePlans.Create(new(
            "cut-only",
            [
                new PlannedStage("cut", Effort: effort, LeastEffort: least, MostEffort: most),
                new PlannedStage("publish", Publication: true),
            ])).Value();
        await client.Series.Open(new(
            Series, "Short", "cut-only",
            new("FREQ=WEEKLY;BYDAY=TH", new(7, 0), "Europe/Lisbon", First.PlusDays(3)), tolerance)).Value();
    }

    /// <summary>Every hour of the week is a working hour.</summary>
    public static async Task WorkAllHours(ReleasekitClient client)
    {
        var before = await client.Publishers.Get();
        await client.Publishers.Change(
            new(WorkingWeek:
            [
                .. new[] { "monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday" }
                    .Select(day => new WorkingHours(day, LocalTime.Midnight, LocalTime.Midnight)),
            ]), before.Headers!.ETag!.Tag).Value();
    }

    /// <summary>Monday 9:00 of a week, counted from the first.</summary>
    public static Instant Monday9(int week, double hours = 0) =>
        First.PlusWeeks(week).At(new(9, 0)).InUtc().ToInstant() + Duration.FromHours(hours);

    /// <summary>The slot of a week.</summary>
    public static LocalDate Slot(int week) => First.PlusWeeks(week).PlusDays(3);

    public static Task<Release> Planned(ReleasekitClient client, int week, Instant plannedAt) =>
        client.Releases.Plan(new(Series, $"No. {week}", Slot(week), plannedAt)).Value();

    /// <summary>Cut on Tuesday from 9:00 on for so long, published so long after its slot.</summary>
    public static async Task Made(ReleasekitClient client, int week, double hours, double late = 0)
    {
        var release = await Planned(client, week, Monday9(week));
        await client.Record(release, "cut", StageState.Started, Monday9(week, 24));
        await client.Record(release, "cut", StageState.Completed, Monday9(week, 24 + hours));
        await client.Record(release, "publish", StageState.Completed, Monday9(week, 70 + late));
    }
}
