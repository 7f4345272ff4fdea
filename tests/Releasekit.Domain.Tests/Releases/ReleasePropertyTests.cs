using CsCheck;
using Releasekit.Domain.Releases;
using static Releasekit.Domain.Tests.Releases.Mudflat;

namespace Releasekit.Domain.Tests.Releases;

/// <summary>Whatever is asked of a release, in whatever order. A failure prints the seed that repeats it.</summary>
public sealed class ReleasePropertyTests
{
    private static readonly StagePlan[] Plans =
    [
        Plan,
        new("audio", "Audio", 2,
            [.. Plan.Stages.Where(stage => stage.Key != "recording"), Stage("site-page", "publish")]),
        new("audio", "Audio", 3,
            [Stage("outline"), Stage("final-mix", "outline", publication: true), Stage("publish")]),
    ];

    private static readonly string[] Keys = [
        "outline", "recording", "final-mix", "publish", "announce", "site-page", "x"];

    private static readonly Gen<Asked> GenTransition = Gen.Select(
        Gen.OneOf(Keys), Gen.Enum<StageState>(), Gen.OneOf("why", null!), Gen.Int[-30, 1], Gen.Bool,
        (stage, to, note, hours, isNow) => new Asked(
            $"{stage} to {to} {(isNow ? "now" : hours)} {note}",
            (release, now) => StageDecider.Record(
                release, stage, to, note, stage is "publish" && to is StageState.Completed
                    ? "https://example.org" : null,
                isNow ? null : now + Duration.FromHours(hours), now)));

    private static readonly Gen<Asked> GenCorrection = Gen.Select(
        Gen.Int[1, 30], Gen.Int[-30, 1], (sequence, hours) => new Asked(
            $"amend {sequence} to {hours}",
            (release, now) => StageDecider.Amend(release, sequence, now + Duration.FromHours(hours), now)));

    private static readonly Gen<Asked> GenTick = Gen.Select(
        Gen.OneOf("noise-cut", "levels-even", "x"), Gen.Bool, (item, ticked) => new Asked(
            $"tick {item} {ticked}", (release, now) => StageDecider.Tick(release, "final-mix", item, ticked, now)));

    private static readonly Gen<Asked> GenWhole = Gen.Int[0, 7].Select(which => which switch
    {
        0 => new Asked("drop", (release, now) => ReleaseDecider.Drop(release, "guest ill", now)),
        1 => new Asked("restore", (release, now) => ReleaseDecider.Restore(release, slotIsTaken: false, now)),
        2 => new Asked("assign", (release, now) => ReleaseDecider.AssignSlot(release, Slot, now)),
        3 => new Asked("unassign", (release, now) => ReleaseDecider.UnassignSlot(release, "taken off", now)),
        4 => new Asked("retitle", (release, now) => ReleaseDecider.Retitle(release, "No. 13", now)),
        var plan =>
            new Asked($"plan {plan}", (release, now) => ReleaseDecider.AdoptPlan(release, Plans[plan - 5], now)),
    });

    private static readonly Gen<(Asked, int)[]> GenRequests = Gen.Select(
        Gen.Frequency((8, GenTransition), (2, GenCorrection), (1, GenTick), (2, GenWhole)), Gen.Int[0, 300]).Array[1,
        40];

    [Fact]
    public void Nothing_that_is_asked_leaves_a_state_that_its_events_do_not_tell() => GenRequests.Sample(requests =>
    {
        var events = new List<ReleaseEvent> { Planned };
        var release = After(Planned);
        var now = PlannedAt;

        foreach (var (asked, minutes) in requests)
        {
            now += Duration.FromMinutes(minutes);
            var decision = asked.Decide(release, now);
            release = Append(events, release, decision);

            AssertInOrder(decision, now);
            Assert.True(decision.Refusal is not null || !asked.Decide(release, now).Any(), $"{asked.What} twice");
            AssertAsRead(release, new PlainReading(events));
        }

        var recorded = events.Select((e, i) => new Recorded(i + 1, e)).ToArray();
        Assert.Equal(Picture(release), Picture(ReleaseHistory.Now(recorded)));
        Assert.Equal(Picture(release), Picture(ReleaseHistory.AsKnownThen(recorded, now)));
        Assert.Equal(Picture(release), Picture(ReleaseHistory.AsKnownNow(recorded, Instant.MaxValue)));
    }, iter: 3000, print: requests => string.Join("; ", requests.Select(r => $"+{r.Item2}min {r.Item1.What}")));

    [Fact]
    public void Every_past_moment_can_be_read() =>
        Gen.Select(GenRequests, Gen.Int[-50, 200]).Sample((requests, hours) =>
    {
        var events = new List<ReleaseEvent> { Planned };
        var release = After(Planned);
        var now = PlannedAt;

        foreach (var (asked, minutes) in requests)
        {
            now += Duration.FromMinutes(minutes);
            release = Append(events, release, asked.Decide(release, now));
        }

        var recorded = events.Select((e, i) => new Recorded(i + 1, e)).ToArray();
        Assert.Equal(hours >= 0, ReleaseHistory.AsKnownThen(recorded, At(hours)) is not null);
        Assert.Equal(hours >= 0, ReleaseHistory.AsKnownNow(recorded, At(hours)) is not null);
    }, iter: 500);

    private static Release Append(List<ReleaseEvent> events, Release release, IEnumerable<ReleaseEvent> decided)
    {
        foreach (var e in decided)
        {
            events.Add(e);
            release = Release.Evolve(release, events.Count, e);
        }

        return release;
    }

    private static void AssertInOrder(Decision<ReleaseEvent> decision, Instant now)
    {
        Assert.True(decision.Refusal is null || !decision.Any());
        Assert.All(decision, e => Assert.Equal(now, e.RecordedAt));
        Assert.All(decision, e => Assert.InRange(e.OccurredAt, PlannedAt, now + ReleaseDecider.ClockLeeway));
        Assert.Equal(decision.Select(e => e.OccurredAt).Order(), decision.Select(e => e.OccurredAt));
    }

    private static void AssertAsRead(Release release, PlainReading plain)
    {
        Assert.Equal(plain.Stages, release.Stages.Select(stage => $"{stage.Plan.Key} {release.StateOf(stage)}"));
        Assert.Equal(plain.OpenStages, release.OpenStages);
        Assert.Equal((plain.State, plain.PublishedAt, plain.Url), (release.State, release.PublishedAt, release.Url));
        Assert.Equal(plain.Slot, release.Slot);
        Assert.Equal(release.State is ReleaseState.Dropped ? null : plain.Slot, release.HeldSlot);
    }

    private sealed record Asked(string What, Func<Release, Instant, Decision<ReleaseEvent>> Decide);
}
