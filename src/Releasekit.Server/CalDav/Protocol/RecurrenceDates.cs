using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Evaluation;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The days of a recurrence rule, each with the start's time of day.</summary>
internal static class RecurrenceDates
{
    /// <summary>Ascending, from the start to the last year served, or until nothing matches for forty years.</summary>
    /// <param name="rule">By the day at most, without COUNT, UNTIL and times of day.</param>
    /// <exception cref="BodyRefusedException">While enumerated: the rule says what no rule can.</exception>
    public static IEnumerable<LocalDateTime> Of(string rule, LocalDateTime start)
    {
        using var dates = Expand(rule, start).GetEnumerator();
        while (TryNext(dates) && dates.Current.Year <= WallTimes.LastYear)
        {
            yield return dates.Current;
        }
    }

    // In UTC the wall clock has no gaps, which Ical.Net would otherwise fall into. Lazy, so that what the library says
    // of the rule itself is caught too.
    private static IEnumerable<LocalDateTime> Expand(string rule, LocalDateTime start)
    {
        var origin = new CalDateTime(start.ToDateTimeUnspecified(), "UTC");
        var recurring = new CalendarEvent { Start = origin, RecurrenceRule = new RecurrenceRule(rule) };

        var options = new EvaluationOptions { MaxUnmatchedIncrementsLimit = Patience(rule) };

        foreach (var occurrence in recurring.GetOccurrences(origin, options))
        {
            yield return LocalDateTime.FromDateTime(occurrence.Period.StartTime.Value);
        }
    }

    // Steps of forty years: the longest wait of a sensible rule is for a 29 February on a given weekday across 2100.
    private static int Patience(string rule) => rule switch
    {
        _ when rule.Contains("FREQ=DAILY", StringComparison.Ordinal) => 14_650,
        _ when rule.Contains("FREQ=WEEKLY", StringComparison.Ordinal) => 2_100,
        _ when rule.Contains("FREQ=MONTHLY", StringComparison.Ordinal) => 490,
        _ => 45,
    };

    private static bool TryNext(IEnumerator<LocalDateTime> dates)
    {
        try
        {
            return dates.MoveNext();
        }
        catch (EvaluationException)
        {
            // Ical.Net's way of saying that nothing more matches before its limits.
            return false;
        }
        catch (Exception broken) when (broken is ArgumentException or FormatException)
        {
            throw new BodyRefusedException(BodyFault.Malformed(
                "A recurrence rule joins parts that do not go together."));
        }
    }
}
