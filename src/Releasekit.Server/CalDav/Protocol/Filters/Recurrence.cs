using Ical.Net;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Evaluation;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// The times a recurrence rule names, found on a wall clock without gaps, since the calendar library goes astray, or
/// never returns, where clocks are changed. The work is bounded: a null at the end stands for "there may be more".
/// </summary>
internal static class Recurrence
{
    private const int MostTimes = 5_000;
    private const int MostTimesADay = 24;
    private const int FirstYearToSkip = 1900;

    /// <param name="rule">May be one that never ends.</param>
    /// <param name="anchor">The time the rule counts from.</param>
    /// <param name="from">Times before it may be left out, as far as that can be done without counting them.</param>
    public static IEnumerable<CalendarTime?> TimesOf(RecurrenceRule rule, CalendarTime anchor, Instant from)
    {
        using var times = Endless(rule, anchor, from)?.GetEnumerator();
        for (var count = 0; times is not null && count < MostTimes; count++)
        {
            var step = Next(times, IsFine(rule.Frequency));
            if (step is Step.Ended || (step is Step.Found && IsPast(rule.Until, TimeAt(times, anchor), anchor)))
            {
                yield break;
            }

            if (step is Step.CutShort)
            {
                break;
            }

            yield return TimeAt(times, anchor);
        }

        yield return null;
    }

    private static IEnumerable<Occurrence>? Endless(RecurrenceRule rule, CalendarTime anchor, Instant from)
    {
        // Thousands of times in each day are nobody's calendar, and to pick one of them could take hours.
        if ((long)Math.Max(1, rule.ByHour.Count) * Math.Max(1, rule.ByMinute.Count) * Math.Max(1, rule.BySecond.Count)
            > MostTimesADay)
        {
            return null;
        }

        var endless = new RecurrenceRule(rule.ToString()!) { Until = null };
        var origin = new CalDateTime(anchor.Local.ToDateTimeUnspecified(), CalDateTime.UtcTzId);
        var series = new CalendarEvent { Start = origin, RecurrenceRule = endless };
        var limits = new EvaluationOptions { MaxUnmatchedIncrementsLimit = PatienceWith(rule.Frequency) };
        return series.GetOccurrences(SkipTo(rule, anchor, from) ?? origin, limits);
    }

    // Counted rules and those of hours and less would be walked through all the same, and without any bound.
    private static CalDateTime? SkipTo(RecurrenceRule rule, CalendarTime anchor, Instant from) =>
        rule.Count is null && !IsFine(rule.Frequency) && anchor.Local.Year >= FirstYearToSkip && from > anchor.Instant
            ? new CalDateTime(from.InUtc().LocalDateTime.PlusDays(-1).ToDateTimeUnspecified(), CalDateTime.UtcTzId)
            : null;

    private static Step Next(IEnumerator<Occurrence> times, bool isFine)
    {
        try
        {
            return times.MoveNext() ? Step.Found : Step.Ended;
        }
        catch (EvaluationLimitExceededException)
        {
            // Forty years without a time are an end; ten thousand seconds are not.
            return isFine ? Step.CutShort : Step.Ended;
        }
        catch (EvaluationException)
        {
            return Step.Ended;
        }
        catch (ArgumentException)
        {
            return Step.CutShort;
        }
    }

    private static CalendarTime TimeAt(IEnumerator<Occurrence> times, CalendarTime anchor) =>
        new(LocalDateTime.FromDateTime(times.Current.Period.StartTime.Value), anchor.Zone, anchor.IsDate);

    private static bool IsPast(CalDateTime? until, CalendarTime time, CalendarTime anchor) => until is not null
        && (until.HasTime && !anchor.IsDate
            ? time.Instant > CalendarTime.Of(until, anchor.Zone).Instant
            : time.Local.Date > LocalDate.FromDateOnly(until.Date));

    private static bool IsFine(FrequencyType frequency) =>
        frequency is FrequencyType.Secondly or FrequencyType.Minutely or FrequencyType.Hourly;

    private static int PatienceWith(FrequencyType frequency) => frequency switch
    {
        FrequencyType.Yearly => 45,
        FrequencyType.Monthly => 490,
        FrequencyType.Weekly => 2_100,
        FrequencyType.Daily => 14_650,
        _ => 10_000,
    };

    private enum Step
    {
        Found,
        Ended,
        CutShort,
    }
}
