using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Releases;

/// <summary>
/// What has to start when, through the API; the clock stands at Monday 2 March 2026, nine in Lisbon.
/// </summary>
public sealed class ReleaseScheduleTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private ReleasekitClient _client = null!;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        _client = (await _service.NewPublisher()).Client;
        await _client.GivenASeries();
        var plan = (await _client.StagePlans.Get("audio")).Headers!.ETag!.Tag;
        await _client.StagePlans.Replace("audio",
            new([
                new("outline", "Outline", Effort: Duration.FromHours(2)),
                new("mix", "Final mix", Effort: Duration.FromHours(12)),
                new("publish", "Publish", Publication: true),
                new("letter", "Reader letter", Effort: Duration.FromHours(1), Within: Duration.FromHours(48)),
            ], "Audio"), plan).Value();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task Stages_are_counted_back_from_the_slot_in_working_hours()
    {
        var release = await _client.GivenARelease();

        var schedule = await _client.Releases.Schedule(release.Id).Value();

        // By hand: Mon to Fri 9 to 17, slot Thu 7:00. Mix 12 h must end Wed 17:00, so begins Tue 13:00, outline 11:00.
        Assert.Equal(
            [
                ("outline", At(2, 9), At(2, 11), At(3, 11), At(3, 13), Hours(10)),
                ("mix", At(2, 11), At(3, 15), At(3, 13), At(4, 17), Hours(10)),
                ("publish", At(3, 15), At(3, 15), At(5, 7), At(5, 7), Hours(10)),
                ("letter", At(5, 9), At(5, 10), At(6, 16), At(6, 17), Hours(15)),
            ],
            schedule.Stages.Select(stage => (
                stage.Key, stage.EarliestStart, stage.EarliestFinish, stage.LatestStart, stage.LatestFinish,
                stage.TotalFloat)));
        Assert.Equal((At(5, 7), At(5, 7), false), (schedule.SlotAt, schedule.PublicationAt, schedule.AtRisk));
    }

    [Fact]
    public async Task What_should_have_started_is_at_risk_until_it_is_ticked()
    {
        var release = await _client.GivenARelease();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 3, 13, 0));

        var late = await _client.Releases.Schedule(release.Id).Value();
        await _client.Record(release, "outline", StageState.Completed);
        var onTime = await _client.Releases.Schedule(release.Id).Value();

        Assert.True(late.AtRisk);
        Assert.Equal([("outline", Hours(-2))],
            late.Stages.Where(stage => stage.AtRisk).Select(stage => (stage.Key, stage.TotalFloat)));
        Assert.False(onTime.AtRisk);
        Assert.Equal(("mix", Hours(0)), (onTime.Stages[0].Key, onTime.Stages[0].TotalFloat));
    }

    [Fact]
    public async Task A_day_off_of_the_publisher_is_not_worked()
    {
        var release = await _client.GivenARelease();
        var tag = (await _client.Publishers.Get()).Headers!.ETag!.Tag;
        await _client.Publishers.Change(new(DaysOff: [new LocalDate(2026, 3, 4)]), tag).Value();

        var schedule = await _client.Releases.Schedule(release.Id).Value();

        Assert.Equal((At(2, 11), At(2, 13)), (schedule.Stages[0].LatestStart, schedule.Stages[0].LatestFinish));
        Assert.Equal((At(2, 13), At(3, 17)), (schedule.Stages[1].LatestStart, schedule.Stages[1].LatestFinish));
    }

    [Fact]
    public async Task A_release_nobody_knows_has_no_schedule() =>
        Assert.Equal(404, (await _client.Releases.Schedule(Guid.NewGuid()).Problem()).Status);

    private static Instant? At(int day, int hour) => Instant.FromUtc(2026, 3, day, hour, 0);

    private static Duration? Hours(double hours) => Duration.FromHours(hours);
}
