using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Work;

/// <summary>
/// The rules of a project once more, as plain variables and ifs: every command changes it and answers what happened,
/// "done", "same" or the code of the refusal. It shares nothing with the deciders and events.
/// </summary>
internal sealed class PlainProject
{
    private int _planned;

    public const string Done = "done";
    public const string Same = "same";

    public string Title { get; private set; } = "Atlas";

    public int Rank { get; private set; } = 2;

    public bool IsDropped { get; private set; }

    public (string Goal, LocalDate FinishBy, LocalDate PromisedBy, Instant At)? Start { get; private set; }

    public (Instant At, string? Outcome)? End { get; private set; }

    public List<(LocalDate From, LocalDate To, string? Reason)> Moves { get; } = [];

    public List<(string Key, string What, LocalDate? When, bool IsDone)> Steps { get; } = [];

    public ProjectState State => IsDropped ? ProjectState.Dropped
        : End is not null ? ProjectState.Finished
        : Start is not null ? ProjectState.Started
        : ProjectState.Candidate;

    private string? Over => IsDropped ? "project.dropped" : End is not null ? "project.finished" : null;

    private string? NotStarted => Start is null && !IsDropped ? "project.not_started" : Over;

    public string Retitle(string title) => title.Length == 0 ? "title.invalid"
        : Apply(title == Title, () => Title = title);

    public string Rate(int rank) => rank is < 1 or > 3 ? "project.rank_invalid"
        : Apply(rank == Rank, () => Rank = rank);

    public string Begin(string goal, LocalDate by, bool anyway, LocalDate today, bool isFull, Instant now)
    {
        if (State is ProjectState.Started)
        {
            return Start!.Value.Goal == goal && Start.Value.FinishBy == by ? Same : "project.started";
        }

        var refused = Over
            ?? (goal.Length == 0 ? "project.goal_invalid" : null)
            ?? (by <= today ? "project.finish_by_invalid" : null)
            ?? (Period.DaysBetween(today, by) < 28 && !anyway ? "project.too_short" : null)
            ?? (isFull ? "project.limit" : null);

        return refused ?? Apply(false, () => Start = (goal, by, by, now));
    }

    public string Move(LocalDate to, string? reason, LocalDate today)
    {
        if (Start?.FinishBy == to)
        {
            return reason is null || (Moves.Count > 0 && Moves[^1].Reason == reason) ? Same : "project.reason_alone";
        }

        return NotStarted ?? (to < today ? "project.finish_by_invalid" : Apply(false, () =>
        {
            Moves.Add((Start!.Value.FinishBy, to, reason));
            Start = Start.Value with { FinishBy = to };
        }));
    }

    public string Finish(string? outcome, Instant? at, Instant now)
    {
        if (!IsDropped && End is { } end)
        {
            return (at is null || at == end.At) && (outcome is null || outcome == end.Outcome)
                ? Same : "project.finished";
        }

        return NotStarted
            ?? (at > now + Duration.FromMinutes(2) ? "occurred.future" : null)
            ?? (at < Start!.Value.At ? "project.finish_before_start" : null)
            ?? Apply(false, () => End = (at ?? now, outcome));
    }

    public string Reopen() => IsDropped ? "project.dropped"
        : Start is null ? "project.not_started"
        : Apply(End is null, () => End = null);

    public string Drop() => End is not null && !IsDropped ? "project.finished"
        : Apply(IsDropped, () => IsDropped = true);

    public string Restore() => Apply(!IsDropped, () => IsDropped = false);

    public string PlanStep(string what, LocalDate? when) => Over ?? (what.Length == 0 ? "step.invalid"
        : Apply(false, () => Steps.Add(($"s{++_planned}", what, when, false))));

    public string ChangeStep(string key, string what, LocalDate? when, bool isDone)
    {
        var i = Steps.FindIndex(step => step.Key == key);

        if (i < 0)
        {
            return "step.unknown";
        }

        return Steps[i] == (key, what, when, isDone) ? Same
            : Over ?? (what.Length == 0 ? "step.invalid" : Apply(false, () => Steps[i] = (key, what, when, isDone)));
    }

    public string RemoveStep(string key) => Steps.All(step => step.Key != key) ? "step.unknown"
        : Over ?? Apply(false, () => Steps.RemoveAll(step => step.Key == key));

    private static string Apply(bool isSame, Action change)
    {
        if (isSame)
        {
            return Same;
        }

        change();
        return Done;
    }
}
