using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Feeds;

/// <summary>
/// What of one series stands in a feed: its slots, releases and open stages, each with a UID that never changes.
/// </summary>
internal sealed class FeedEntries(Feed feed, Series series)
{
    private static readonly Duration PublicationLength = Duration.FromMinutes(15);
    private static readonly Duration StageLength = Duration.FromMinutes(30);

    private const int MostRevisions = 100;

    private bool IsBusyOnly => feed.Privacy is FeedPrivacy.Busy;

    /// <summary>
    /// The entries of the slots from <paramref name="from"/> to <paramref name="to"/>, and of the releases given.
    /// </summary>
    /// <param name="releases">Those of the series that are not dropped.</param>
    public IEnumerable<CalendarEntry> Of(IReadOnlyCollection<Release> releases, LocalDate from, LocalDate to)
    {
        var slots = SlotCalendar.Between(series, from, to).ToDictionary(slot => slot.Date);
        var held = releases.Select(release => release.Slot).OfType<LocalDate>().ToHashSet();

        return slots.Values
            .Where(slot => !held.Contains(slot.Date) && slot.Excuse is null)
            .Select(OpenSlot)
            .Concat(releases.SelectMany(release => Of(release, slots, from, to)));
    }

    private IEnumerable<CalendarEntry> Of(
        Release release, Dictionary<LocalDate, Slot> slots, LocalDate from, LocalDate to)
    {
        var slot = release.Slot is { } date && slots.TryGetValue(date, out var found) ? found : null;

        if (slot is null && !(release is { Slot: null, PublishedAt: { } published } && IsWithin(published, from, to)))
        {
            return [];
        }

        var due = DueDates.Of(release, slot?.At);
        var stages = feed.Stages is FeedStages.None
            ? []
            : Worth(release).Where(stage => due[stage.Plan.Key] is not null);

        return [OfRelease(release, slot),
            .. stages.Select(stage => OfStage(release, stage, slot, due[stage.Plan.Key]!.Value))];
    }

    /// <summary>Open stages that still matter: once published, only what follows up does.</summary>
    private static IEnumerable<Stage> Worth(Release release)
    {
        var followUps = StagePlanRules.FollowUps([.. release.Stages.Select(stage => stage.Plan)]);

        return release.Stages.Where(stage => !stage.IsDone && !stage.Plan.Publication
            && (release.PublishedAt is null || followUps.Contains(stage.Plan.Key)));
    }

    private EventEntry OpenSlot(Slot slot) => new(
        $"{slot.Date:uuuu-MM-dd}.{series.Slug}.{feed.Publisher}@slot.releasekit",
        slot.ChangedAt,
        IsBusyOnly ? "Busy" : $"{series.Title}: nothing planned yet",
        At(slot.At, slot.Zone))
    {
        End = At(slot.At + PublicationLength, slot.Zone),
        Sequence = slot.Revision,
        Status = EventStatus.Tentative,
        IsTransparent = true,
        Categories = IsBusyOnly ? [] : [series.Title],
    };

    private EventEntry OfRelease(Release release, Slot? slot)
    {
        // A published release stands where it was published: that is what happened.
        var at = release.PublishedAt ?? slot!.At;
        var zone = slot?.Zone ?? series.Cadence.Zone;

        return new($"{release.Id}@release.releasekit", ChangedAt(release, slot), IsBusyOnly
            ? "Busy" : release.Title, At(at, zone))
        {
            End = At(at + PublicationLength, zone),
            Sequence = SequenceOf(release, slot),
            CreatedAt = release.PlannedAt,
            Description = IsBusyOnly ? null : Describe(release),
            Url = !IsBusyOnly && release.Url is { } url ? new Uri(url) : null,
            IsTransparent = true,
            Categories = IsBusyOnly ? [] : [series.Title],
        };
    }

    private CalendarEntry OfStage(Release release, Stage stage, Slot? slot, Instant due)
    {
        var zone = slot?.Zone ?? series.Cadence.Zone;
        var uid = $"{stage.Plan.Key}.{release.Id}@stage.releasekit";
        var summary = IsBusyOnly ? "Busy" : $"{stage.Plan.Name}: {release.Title}";

        return feed.Stages is FeedStages.Todo
            ? new TodoEntry(uid, ChangedAt(release, slot), summary)
            {
                Due = At(due, zone),
                Status = release.StateOf(stage) is StageState.Started or StageState.Blocked
                    ? TodoStatus.InProcess : TodoStatus.NeedsAction,
                Sequence = SequenceOf(release, slot),
                CreatedAt = release.PlannedAt,
                RelatedTo = $"{release.Id}@release.releasekit",
                Categories = IsBusyOnly ? [] : [series.Title],
            }
            : new EventEntry(uid, ChangedAt(release, slot), summary, At(due - StageLength, zone))
            {
                End = At(due, zone),
                Sequence = SequenceOf(release, slot),
                CreatedAt = release.PlannedAt,
                IsTransparent = true,
                Categories = IsBusyOnly ? [] : [series.Title],
            };
    }

    private static string Describe(Release release) => string.Join('\n', release.Stages
        .Select(stage => $"{Word(release.StateOf(stage))} {stage.Plan.Name}"));

    private static string Word(StageState state) => state switch
    {
        StageState.Completed => "done:",
        StageState.Skipped => "left out:",
        StageState.Started => "begun:",
        StageState.Blocked => "held up:",
        _ => "to do:",
    };

    private bool IsWithin(Instant at, LocalDate from, LocalDate to)
    {
        var date = at.InZone(series.Zone).Date;
        return from <= date && date < to;
    }

    private static Instant ChangedAt(Release release, Slot? slot) =>
        slot is null ? release.ChangedAt : Instant.Max(release.ChangedAt, slot.ChangedAt);

    /// <summary>
    /// Grows with every change of the release and every decision about its
    /// slot. An event of the release weighs more than all decisions about a slot, so that another slot with fewer of
    /// them does not make it shrink.
    /// </summary>
    private static int SequenceOf(Release release, Slot? slot) =>
        (((int)release.Sequence - 1) * MostRevisions) + Math.Min(slot?.Revision ?? 0, MostRevisions - 1);

    private static CalendarMoment At(Instant at, string zone) => new(at, LocalTimes.FindZone(zone));
}
