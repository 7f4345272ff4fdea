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
        var clock = SharedClock(spells, calendar);

        foreach (var spell in spells)
        {
            var worked = clock[spell.To] - clock[spell.From];
            var owner = (spell.Release, spell.Stage);
            hours[owner] = hours.GetValueOrDefault(owner) + worked;
        }

        return new(hours, calendar);
    }

    /// <summary>On a stage of a release; 0 when none are known. To the millisecond.</summary>
    public double On(Guid release, string stage) =>
        Math.Round(_hours.GetValueOrDefault((release, stage)) * NodaConstants.MillisecondsPerHour)
            / NodaConstants.MillisecondsPerHour;

    /// <summary>Whether all is told of a stage that is done: when each visit of it began, or is taken to have.</summary>
    /// <param name="isTaken">Whether a start of it is taken from the tick before it, or from its effort.</param>
    internal bool IsTold(ReleaseFacts release, StageFacts stage, out bool isTaken)
    {
        isTaken = stage.Visits.Any(visit => visit.From is null);
        return stage.Visits.All(visit => StageSpells.StartOf(release, stage, visit, _calendar) is not null);
    }

    /// <summary>At each boundary, the hours that one who was under way all the time would have got by then.</summary>
    private static Dictionary<Instant, double> SharedClock(StageSpell[] spells, WorkingCalendar calendar)
    {
        var clock = new Dictionary<Instant, double>();
        var (under, got, before) = (0, 0.0, Instant.MinValue);
        var boundaries = spells.Select(spell => (At: spell.From, Change: 1))
            .Concat(spells.Select(spell => (At: spell.To, Change: -1)));

        foreach (var (at, change) in boundaries.OrderBy(boundary => boundary.At))
        {
            if (under > 0 && at > before)
            {
                got += (calendar.Between(before, at)?.TotalHours ?? 0) / under;
            }

            (clock[at], before, under) = (got, at, under + change);
        }

        return clock;
    }
}
