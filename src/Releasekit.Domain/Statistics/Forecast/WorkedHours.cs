using Releasekit.Domain.Planning;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>
/// The working hours that went into each stage. An hour is worked once: where several stages were under way beside each
/// other, of one release or of many, each gets an equal part, so that the hours of all together are those in which
/// anything was under way. Blocked time is no work, nor is what lies outside working hours.
/// </summary>
public sealed class WorkedHours
{
    private readonly Dictionary<(Guid Release, string Stage), double> _hours;

    private readonly WorkingCalendar _calendar;

    private WorkedHours(Dictionary<(Guid, string), double> hours, WorkingCalendar calendar) =>
        (_hours, _calendar) = (hours, calendar);

    /// <summary>The hours up to an instant.</summary>
    /// <param name="facts">Of all releases of the one who works, of all series.</param>
    /// <param name="until">UTC; what goes on is counted as far as it.</param>
    public static WorkedHours Of(IEnumerable<ReleaseFacts> facts, Instant until, WorkingCalendar calendar)
    {
        var hours = new Dictionary<(Guid, string), double>();
        StageSpell[] spells = [.. facts.SelectMany(release => StageSpells.Of(release, until, calendar))];
        var clock = new SharedClock(
            spells.Select(spell => (spell.From, spell.To)), (from, to) => calendar.Between(from, to)?.TotalHours ?? 0);

        foreach (var spell in spells)
        {
            var owner = (spell.Release, spell.Stage);
            hours[owner] = hours.GetValueOrDefault(owner) + clock.Between(spell.From, spell.To);
        }

        return new(hours, calendar);
    }

    /// <summary>On a stage of a release; 0 when none are known. To the millisecond.</summary>
    public double On(Guid release, string stage) =>
        Math.Round(_hours.GetValueOrDefault((release, stage)) * NodaConstants.MillisecondsPerHour)
            / NodaConstants.MillisecondsPerHour;

    /// <summary>Whether all is told of a stage that is done: when each visit of it began, or is taken to
    /// have.</summary>
    /// <param name="isTaken">Whether a start of it is taken from the tick before it, or from its effort.</param>
    internal bool IsTold(ReleaseFacts release, StageFacts stage, out bool isTaken)
    {
        isTaken = stage.Visits.Any(visit => visit.From is null);
        return stage.Visits.All(visit => StageSpells.StartOf(release, stage, visit, _calendar) is not null);
    }
}
