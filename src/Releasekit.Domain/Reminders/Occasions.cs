using Releasekit.Domain.Sheets;

namespace Releasekit.Domain.Reminders;

/// <summary>
/// What a publisher is to be reminded of now. Each lasts as long as its reason: what was done meanwhile, moved, given
/// up or removed is not spoken of, however long the service was away.
/// <list type="table">
/// <item><term>stage due soon</term><description>from the lead time before its latest finish on, until then, while it
/// is open; the latest finish is counted back from the slot on the working calendar, as "due at the slot" would warn
/// when it is too late for what follows</description></item>
/// <item><term>stage overdue</term><description>from its latest finish on, while it is open</description></item>
/// <item><term>slot at risk</term><description>before the slot, when a stage should have begun and has not, or when the
/// latest forecast makes it less likely to be met than the series' threshold; for a slot that nobody holds, when the
/// whole stage plan should have begun and the bank is empty</description></item>
/// <item><term>slot missed</term><description>when it counts as missed</description></item>
/// <item><term>task due</term><description>in the morning of the last working day of its period, or so many days before
/// </description></item>
/// <item><term>project overdue</term><description>in the morning after the day it was to be finished by</description>
/// </item>
/// </list>
/// Nothing is said of what lay past already when the thing came to be known, as with a history that is imported, nor of
/// what is older than <see cref="KeptFor"/>.
/// </summary>
public static class Occasions
{
    /// <summary>How long an occasion is caught up with.</summary>
    public static readonly Duration KeptFor = Duration.FromDays(30);

    /// <summary>Everything that is owed at the facts' present, whether it was raised before or not; by time.</summary>
    /// <param name="plans">The stages that a release of each series would have now, by slug.</param>
    public static IReadOnlyList<Occasion> Owed(SheetFacts facts, IReadOnlyDictionary<string, PlannedWork> plans) =>
    [
        .. StageOccasions.Of(facts)
            .Concat(SlotOccasions.Of(facts, plans))
            .Concat(TaskOccasions.Of(facts))
            .Concat(ProjectOccasions.Of(facts))
            .Where(occasion => occasion.At <= facts.Now && occasion.At > facts.Now - KeptFor)
            .OrderBy(occasion => occasion.At)
            .ThenBy(occasion => occasion.Id, StringComparer.Ordinal),
    ];
}
