namespace Releasekit.Domain.Releases;

/// <summary>
/// What may happen to a release as a whole; its stages are <see cref="StageDecider"/>'s.
/// </summary>
public static class ReleaseDecider
{
    /// <summary>How far the clock of whoever tells us may be ahead of ours.</summary>
    public static readonly Duration ClockLeeway = Duration.FromMinutes(2);

    /// <summary>
    /// Plans a release. Refuses: <c>title.invalid</c>, <c>planned_at.future</c>.
    /// </summary>
    /// <param name="plannedAt">When it began to exist, UTC; a clock ahead of
    /// ours within the leeway is read as now.</param>
    /// <param name="slot">The slot it gets, already known to exist and to be free; null for none.</param>
    public static Decision<ReleaseEvent> Plan(
        Guid id, string series, string title, StagePlan plan, LocalDate? slot, string? externalId, Instant plannedAt,
        Instant now)
    {
        if (Wording.FaultOfLine(title, "A title") is { } fault)
        {
            return Refusal.NotAcceptable("title.invalid", fault, "/title");
        }

        if (plannedAt > now + ClockLeeway)
        {
            return Refusal.NotAcceptable(
                "planned_at.future",
                $"'plannedAt' is when the release began to exist; {plannedAt} is still to come. Leave it out for now.",
                "/plannedAt");
        }

        var at = Instant.Min(plannedAt, now);
        var planned = new ReleasePlanned(id, series, title, plan.Id, plan.Version, plan.Stages, externalId, at, now);

        return slot is { } date ? [planned, new SlotAssigned(date, at, now)] : [planned];
    }

    /// <summary>Gives it another title. Refuses: <c>title.invalid</c>.</summary>
    public static Decision<ReleaseEvent> Retitle(Release release, string title, Instant now)
    {
        if (Wording.FaultOfLine(title, "A title") is { } fault)
        {
            return Refusal.NotAcceptable("title.invalid", fault, "/title");
        }

        return title == release.Title ? [] : [new ReleaseRetitled(title, now, now)];
    }

    /// <summary>Gives it a slot that is known to exist and to be free. Refuses: <c>release.dropped</c>.</summary>
    public static Decision<ReleaseEvent> AssignSlot(Release release, LocalDate slot, Instant now)
    {
        if (release.IsDropped)
        {
            return ReleaseRefusals.Dropped(release);
        }

        return release.Slot == slot ? [] : [new SlotAssigned(slot, now, now)];
    }

    /// <summary>Takes it off its slot. Without a slot nothing changes.</summary>
    public static Decision<ReleaseEvent> UnassignSlot(Release release, string why, Instant now) =>
        release.Slot is { } slot ? [new SlotUnassigned(slot, why, now, now)] : [];

    /// <summary>
    /// Drops it; its slot is free for another. Refuses: <c>release.published</c>, <c>reason.needed</c>.
    /// </summary>
    public static Decision<ReleaseEvent> Drop(Release release, string? reason, Instant now)
    {
        if (release.IsDropped)
        {
            return [];
        }

        if (release.PublishedAt is not null)
        {
            return new Refusal(
                "release.published",
                $"'{release.Title}' is published and cannot be dropped; if the publication was a wrong tick, reopen it "
                    + "first.");
        }

        return Wording.FaultOfLine(reason, "The reason for dropping a release", Wording.LongestNote) is { } fault
            ? Refusal.NotAcceptable("reason.needed", fault, "/reason")
            : [new ReleaseDropped(reason!, now, now)];
    }

    /// <summary>Takes a dropped release up again. A release that is not dropped stays as it is.</summary>
    /// <param name="slotIsTaken">Whether another release holds its old slot: it is then left without one.</param>
    public static Decision<ReleaseEvent> Restore(Release release, bool slotIsTaken, Instant now)
    {
        if (!release.IsDropped)
        {
            return [];
        }

        return release.Slot is { } slot && slotIsTaken
            ? [new ReleaseRestored(now, now), new SlotUnassigned(slot, "taken by another release meanwhile", now, now)]
            : [new ReleaseRestored(now, now)];
    }

    /// <summary>
    /// Follows another version of the plan; stages of the same key keep what was done.
    /// Refuses: <c>release.dropped</c>, <c>stage_plan.other_publication</c>.
    /// </summary>
    public static Decision<ReleaseEvent> AdoptPlan(Release release, StagePlan plan, Instant now)
    {
        if (release.IsDropped)
        {
            return ReleaseRefusals.Dropped(release);
        }

        if (release.StagePlan == plan.Id && release.PlanVersion == plan.Version)
        {
            return [];
        }

        if (release.Publication.Plan.Key == plan.Publication.Key)
        {
            return [new StagePlanAdopted(plan.Id, plan.Version, plan.Stages, now, now)];
        }

        if (release.PublishedAt is not null)
        {
            return new Refusal(
                "stage_plan.other_publication",
                $"'{release.Title}' was published by its stage '{release.Publication.Plan.Key}'; version "
                    + $"{plan.Version} of "
                + $"'{plan.Id}' publishes by '{plan.Publication.Key}'. Only an unpublished release can follow it.");
        }

        // Adopting a plan publishes nothing: only the completion of the publication stage does.
        return release.FindStage(plan.Publication.Key) is { IsDone: true }
            ? new Refusal(
                "stage_plan.other_publication",
                $"Version {plan.Version} of '{plan.Id}' publishes by '{plan.Publication.Key}', which is done already "
                    + "for "
                + $"'{release.Title}'; reopen that stage first.")
            : [new StagePlanAdopted(plan.Id, plan.Version, plan.Stages, now, now)];
    }
}

/// <summary>Refusals that several commands share.</summary>
internal static class ReleaseRefusals
{
    public static Refusal Dropped(Release release) => new(
        "release.dropped",
        $"'{release.Title}' was dropped ({release.DroppedFor}); restore it before anything else is recorded on it.");

    public static Refusal UnknownStage(Release release, string stage) => Refusal.NotAcceptable(
        "stage.unknown",
        $"'{release.Title}' has no stage '{stage}'; it has "
            + $"{string.Join(", ", release.Stages.Select(s => s.Plan.Key))}.",
        "/stage");
}
