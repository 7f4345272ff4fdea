using Releasekit.Domain.Publishers;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>The side project Estuary sound atlas and what can have happened to it, in Lisbon in spring 2026.</summary>
internal static class Atlas
{
    public const string Goal = "Forty places to be heard on one map";
    public static readonly Guid Id = new("0197a5c0-0000-7000-8000-000000000031");

    /// <summary>A Monday; the year has summer time from 29 March on.</summary>
    public static readonly Instant ProposedAt = Instant.FromUtc(2026, 3, 2, 9, 0);
    public static readonly Instant StartedAt = ProposedAt + Duration.FromDays(1);
    public static readonly Instant Now = ProposedAt + Duration.FromDays(2);
    public static readonly LocalDate Today = new(2026, 3, 4);
    public static readonly LocalDate FinishBy = new(2026, 6, 30);

    public static readonly Publisher Owner =
        new("mudflat", "Mudflat", "Europe/Lisbon", Publisher.UsualWeek, [], ProposedAt);

    public static readonly ProjectProposed Proposed = new(
        Id, "Estuary sound atlas", 2, null, ProposedAt, ProposedAt);

    public static readonly ProjectStarted Started = new(Goal, FinishBy, StartedAt, StartedAt);

    public static readonly ProjectFinished Finished = new("39 places", Now, Now);

    public static readonly ProjectDropped Dropped = new("the tide table was wrong", Now, Now);

    public static StepPlanned Planned(int step, LocalDate? when = null) =>
        new($"s{step}", $"Shore {step}", when, null, StartedAt, StartedAt);

    public static StepFinished Done(int step) => new($"s{step}", Now, Now);

    public static Project After(params IEnumerable<ProjectEvent> events) => Story.OfProject.Given(events).State!;
}
