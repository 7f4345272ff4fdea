using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Tests.Statistics.Flow;

/// <summary>Facts of releases by hand, in hours or days from an origin.</summary>
internal static class Made
{
    public static readonly Instant Origin = Instant.FromUtc(2026, 1, 5, 0, 0);

    public static Instant Hour(double hour) => Origin + Duration.FromHours(hour);

    public static Instant Day(double day) => Hour(day * 24);

    /// <summary>A release with one stage from its start to its publication, both in days.</summary>
    public static ReleaseFacts FromTo(double start, double? finish, double? dropped = null, int name = 0) => Release(
        Day(start), Day(1000), finish is { } at ? Day(at) : null,
        [Stage("cut", StageRole.Making, new StageVisit(Day(start), finish is { } to ? Day(to) : null, []))],
        name) with
    {
        DroppedAt = dropped is { } gone ? Day(gone) : null,
    };

    public static ReleaseFacts Release(
        Instant planned, Instant asOf, Instant? published, IReadOnlyList<StageFacts> stages, int name = 0) =>
        new(new Guid(name, 0, 0, new byte[8]), planned, asOf, stages, published, DroppedAt: null, Slot: null);

    public static StageFacts Stage(string key, StageRole role, params StageVisit[] visits) =>
        new(key, role, Effort: null, IsSkipped: false, visits.LastOrDefault()?.To, visits);

    public static StageVisit Visit(double from, double? to, params Interval[] blocked) =>
        new(Hour(from), to is { } end ? Hour(end) : null, blocked);
}
