using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;
using Releasekit.Server.Http;

namespace Releasekit.Server.Schedule;

/// <param name="Date">Its original local date, which names it.</param>
/// <param name="At">Where it stands in the calendar, UTC.</param>
/// <param name="PromisedAt">What was promised, UTC: as "at" unless it was moved after its time.</param>
/// <param name="State">What became of it.</param>
/// <param name="Release">The release that holds it, or was matched to it; null for none.</param>
/// <param name="PublishedAt">When its release was published, UTC; null when it was not.</param>
/// <param name="LatenessHours">Publication against promise, negative when early; null when not published.</param>
/// <param name="Reason">Why it is excused, in the publisher's words; null when none was given.</param>
internal sealed record SlotBody(
    LocalDate Date,
    Instant At,
    Instant PromisedAt,
    SlotStatus State,
    Guid? Release,
    Instant? PublishedAt,
    double? LatenessHours,
    string? Reason) : ITagged
{
    public static SlotBody Of(Slot slot, SlotOutcome outcome) => new(
        slot.Date,
        slot.At,
        slot.PromisedAt,
        outcome.Status,
        outcome.Release,
        outcome.PublishedAt,
        outcome.Lateness?.TotalHours,
        slot.Excuse?.Reason);
}
