using System.Globalization;
using NodaTime.Text;
using Releasekit.Client;
using Releasekit.Client.Events;
using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;

namespace Releasekit.Server.Tests.Reminders;

/// <summary>
/// Two real processes on one database live through March 2026 in about a minute, each killed again and again, and both
/// away for two days: what was owed is raised once, what was not is not. What is expected was reckoned by hand from the
/// calendar of that month.
/// </summary>
public sealed class TwoProcessesTests(Service service) : IAsyncDisposable
{
    private const int Rate = 43_200;
    private static readonly Instant Begin = Instant.FromUtc(2026, 3, 2, 0, 0);
    private static readonly Instant End = Instant.FromUtc(2026, 3, 31, 0, 0);
    private static readonly Interval Away =
        new(Instant.FromUtc(2026, 3, 20, 18, 0), Instant.FromUtc(2026, 3, 22, 6, 0));

    private readonly TempFolder[] _folders = [TempFolder.Make(), TempFolder.Make()];
    private readonly KillableService?[] _processes = new KillableService?[2];
    private readonly TimeProvider _clock = TimeProvider.System;
    private string _database = string.Empty;
    private string? _token;
    private long _began;

    private Instant Now => Begin + (Duration.FromTimeSpan(_clock.GetElapsedTime(_began)) * Rate);

    [Fact]
    public async Task Every_reminder_of_a_month_is_raised_once()
    {
        _database = await service.Postgres.CreateDatabaseAsync();
        _began = _clock.GetTimestamp();
        await Start(0);
        _token = await File.ReadAllTextAsync(Path.Combine(_folders[0].Path, "owner-token"));
        await TellWhatIsToCome(_processes[0]!.Client);
        await Start(1);

        await LiveThroughTheMonth();
        var raised = await Reminders();

        Assert.Equal(
            Expected().Order(StringComparer.Ordinal), raised.Select(Described).Order(StringComparer.Ordinal));
        Assert.True(raised.Single(e => Described(e) == "task.due On the Saturday 2026-03-21")
            .Data.GetProperty("late").GetBoolean());
    }

    public async ValueTask DisposeAsync()
    {
        foreach (var process in _processes)
        {
            process?.Dispose();
        }

        foreach (var folder in _folders)
        {
            await folder.DisposeAsync();
        }
    }

    private static IEnumerable<string> Expected()
    {
        // The slot of 12 March, for which nothing is done: 32 hours of work before it, eight a day.
        foreach (var stage in new[] { "outline", "record", "publish" })
        {
            yield return $"stage.due_soon Never begun {stage}";
            yield return $"stage.overdue Never begun {stage}";
        }

        yield return "slot.at_risk Never begun 2026-03-12";
        yield return "slot.missed Never begun 2026-03-12";

        // The slot that nobody holds: its work should have begun before the series was opened.
        yield return "slot.at_risk Mudflat Weekly 2026-03-05";
        yield return "slot.missed Mudflat Weekly 2026-03-05";

        // Nobody holds the slot of 2 April either; four working days before it are Friday the 27th to Wednesday.
        yield return "slot.at_risk Mudflat Weekly 2026-04-02";

        // Moved from Thursday the 26th to Saturday the 28th: reminded of the new time only; it may still come in April.
        foreach (var stage in new[] { "outline", "record", "publish" })
        {
            yield return $"stage.due_soon Moved {stage}";
            yield return $"stage.overdue Moved {stage}";
        }

        yield return "slot.at_risk Moved 2026-03-26";

        yield return "task.due On a day 2026-03-10";
        yield return "task.due Important, of the week 2026-W12";
        yield return "task.due Put off 2026-03-25";
        yield return "task.due On the Saturday 2026-03-21";
        yield return "project.overdue Estuary sound atlas ";
    }

    private static async Task TellWhatIsToCome(ReleasekitClient client)
    {
        var publisher = await client.Publishers.Get();
        await client.Publishers.Change(
            new(Zone: "Europe/Lisbon", Reminders: new(Duration.FromDays(5), new LocalTime(8, 0), 0, 3)),
            publisher.Headers!.ETag!.Tag).Value();
        await client.StagePlans.Create(new("audio",
        [
            new("outline", Effort: Duration.FromHours(16)), new("record", Effort: Duration.FromHours(16)),
            new("publish", Publication: true),
        ])).Value();
        await client.Series.Open(new(
            Scenario.Series, "Mudflat Weekly", "audio",
            new("FREQ=WEEKLY;BYDAY=TH", new(7, 0), "Europe/Lisbon", new LocalDate(2026, 3, 5)))).Value();

        await Plan(client, "Never begun", new(2026, 3, 12));
        var done = await Plan(client, "Done in time", new(2026, 3, 19));
        await Plan(client, "Moved", new(2026, 3, 26));
        var dropped = await Plan(client, "Dropped", new(2026, 4, 9));

        foreach (var stage in new[] { "outline", "record", "publish" })
        {
            await client.Record(done, stage, StageState.Completed);
        }

        await client.Series.ChangeSlot(
            Scenario.Series, new(2026, 3, 26), new SlotChange(MoveTo: new LocalDateTime(2026, 3, 28, 7, 0))).Value();
        await client.Releases.Drop(dropped.Id, new("no time")).Value();
        await PlanTasks(client);

        var atlas = await client.Projects.Propose(new("Estuary sound atlas")).Value();
        await client.Projects.Start(atlas.Id, new("Heard on one map", new(2026, 3, 15), Anyway: true)).Value();
        var walk = await client.Projects.Propose(new("Night walk by ear")).Value();
        await client.Projects.Start(walk.Id, new("Twelve listeners", new(2026, 3, 14), Anyway: true)).Value();
        await client.Projects.Finish(walk.Id, new()).Value();
    }

    private static async Task PlanTasks(ReleasekitClient client)
    {
        await client.Tasks.Create(new("On a day", "2026-03-10")).Value();
        await client.Tasks.Create(new("Important, of the week", "2026-W12", Important: true)).Value();
        await client.Tasks.Create(new("On the Saturday", "2026-03-21")).Value();
        var ticked = await client.Tasks.Create(new("Ticked", "2026-03-12")).Value();
        await client.Tasks.Complete(ticked.Id, new()).Value();
        var removed = await client.Tasks.Create(new("Removed", "2026-03-12"));
        await client.Tasks.Remove(removed.Content!.Id, removed.Headers!.ETag!.Tag);
        var put = await client.Tasks.Create(new("Put off", "2026-03-15"));
        await client.Tasks.Change(
            put.Content!.Id, new() { ["when"] = "2026-03-25" }, put.Headers!.ETag!.Tag).Value();
    }

    private static Task<Release> Plan(ReleasekitClient client, string title, LocalDate slot) =>
        client.Releases.Plan(new(Scenario.Series, title, slot)).Value();

    /// <summary>One or the other is killed every few days, never both at once but for the time they are away.</summary>
    private async Task LiveThroughTheMonth()
    {
        for (var next = 0; Now < End; next = 1 - next)
        {
            if (Away.Contains(Now))
            {
                Array.ForEach(_processes, process => process!.Kill());
                await Until(Away.End);
                await Start(0);
                await Start(1);
            }

            await Until(Now + Duration.FromDays(1));
            _processes[next]!.Kill();
            await Start(next);
            await Until(Now + Duration.FromDays(1));
        }
    }

    private async Task Start(int which)
    {
        _processes[which]?.Dispose();
        _processes[which] = await KillableService.Start(
            _folders[which].Path, _database, _token,
            ("Clock__Start", InstantPattern.ExtendedIso.Format(Now)),
            ("Clock__Rate", Rate.ToString(CultureInfo.InvariantCulture)));
    }

    private async Task Until(Instant then)
    {
        var left = (then - Now) / Rate;

        if (left > Duration.Zero)
        {
            await Task.Delay(left.ToTimeSpan());
        }
    }

    private async Task<List<Envelope>> Reminders()
    {
        var raised = new List<Envelope>();
        string[] kinds = ["stage.due_soon", "stage.overdue", "slot.*", "task.*", "project.overdue"];

        foreach (var kind in kinds)
        {
            var page = await _processes[0]!.Client.Events.List(limit: 200, type: kind).Value();
            raised.AddRange(page.Items);
        }

        return raised;
    }

    private static string Described(Envelope told)
    {
        var data = told.Data;
        var what = data.TryGetProperty("stage", out var stage) ? stage.GetProperty("key").GetString()
            : data.TryGetProperty("slot", out var slot) ? slot.GetString()
            : data.TryGetProperty("when", out var when) ? when.GetString()
            : "";

        return $"{told.Type} {data.GetProperty("title").GetString()} {what}";
    }
}
