using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Work;

/// <summary>
/// A task that comes again: a rule, and what each of its tasks begins as. Its tasks are made some time ahead and are
/// then tasks of their own.
/// </summary>
/// <param name="Rule">RFC 5545 section 3.3.10, of days; a week or month comes when the rule meets a day of it.</param>
/// <param name="Pattern">What every task begins as; its period is where the rule counts from.</param>
/// <param name="MadeUntil">Local date before which all its tasks are made.</param>
public sealed record Recurrence(Guid Id, string Rule, PlannedTask Pattern, LocalDate MadeUntil)
{
    /// <summary>How far ahead tasks are made: the year overview needs the next year.</summary>
    public static readonly int DaysAhead = 400;

    /// <summary>The first local date that has no task of it any more; null while it goes on.</summary>
    public LocalDate? EndsBefore { get; init; }

    /// <summary>A recurrence of which no task is made yet; its rule must be one.</summary>
    public static Recurrence Begin(Guid id, string rule, PlannedTask pattern) =>
        new(id, rule, pattern with { Recurrence = id }, pattern.When.First);

    /// <summary>
    /// The first period that a rule meets from another on; that one itself where it meets none, or is no rule.
    /// </summary>
    public static CalendarPeriod FirstPeriod(string rule, CalendarPeriod from) =>
        CadenceRule.TryParse(rule, from.First, out _)?.After(from.First.PlusDays(-1)) is { } date
            ? CalendarPeriod.Holding(from.Kind, date)
            : from;

    /// <summary>
    /// The periods that still need a task so that all are made for <see cref="DaysAhead"/> days from
    /// <paramref name="today"/>, in order, each once; the first of all even when it lies further ahead.
    /// </summary>
    /// <param name="madeUntil">What <see cref="MadeUntil"/> is once they are made.</param>
    public IReadOnlyList<CalendarPeriod> Missing(LocalDate today, out LocalDate madeUntil)
    {
        var rule = CadenceRule.TryParse(Rule, Pattern.When.First, out _)!;
        var kind = Pattern.When.Kind;

        // Whole periods, so that no week is seen twice or never.
        var horizon = CalendarPeriod.Holding(kind, today.PlusDays(DaysAhead)).First;

        if (MadeUntil == Pattern.When.First && rule.After(MadeUntil.PlusDays(-1)) is { } first)
        {
            horizon = LocalDate.Max(horizon, CalendarPeriod.Holding(kind, first).Last.PlusDays(1));
        }

        madeUntil = LocalDate.Max(MadeUntil, EndsBefore < horizon ? EndsBefore.Value : horizon);

        return
        [
            .. rule.Between(MadeUntil, madeUntil).Select(date => CalendarPeriod.Holding(kind, date)).Distinct(),
        ];
    }

    /// <summary>The task of a period, as it is made.</summary>
    public PlannedTask TaskOf(CalendarPeriod period, Guid id, Instant now) => Pattern with
    {
        Id = id,
        When = period,
        NotedAt = now,
        ChangedAt = now,
        CompletedAt = null,
        RemovedAt = null,
    };
}
