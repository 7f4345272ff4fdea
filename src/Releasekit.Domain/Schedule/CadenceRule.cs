using System.Collections.Concurrent;
using Ical.Net.CalendarComponents;
using Ical.Net.DataTypes;
using Ical.Net.Evaluation;

namespace Releasekit.Domain.Schedule;

/// <summary>
/// The dates a series promises: an RFC 5545 recurrence rule from a start date. Dates only: the time of day and the zone
/// are the cadence's own, and <see cref="LocalTimes"/> joins them. The first slot is the first date on or after the
/// start that matches the rule; a start that does not match is no slot, and COUNT does not count it. The dates end with
/// the rule, with the year 2199, or after 20,000 of them, whichever comes first.
/// </summary>
public sealed class CadenceRule
{
    private const int LastYear = 2199;
    private const int MostDates = 20_000;
    private const int MostRemembered = 1000;
    private const int GapSample = 500;
    private const int YearsToFirstDate = 30;

    // Expanding is dear (about 4 microseconds a date) and the same few rules are asked for by every request.
    private static readonly ConcurrentDictionary<(string, LocalDate), (CadenceRule?, Refusal?)> Remembered = new();

    private readonly DateSequence _dates;
    private readonly Lazy<int?> _shortestGapDays;

    private CadenceRule(string text, LocalDate start, RuleText rule)
    {
        (Text, Start) = (text, start);
        _dates = new DateSequence(Expand(rule, start), MostDates);
        _shortestGapDays = new Lazy<int?>(ShortestGap);
    }

    /// <summary>The rule as it was given.</summary>
    public string Text { get; }

    /// <summary>The date the rule counts from (DTSTART in RFC 5545); a slot only if it matches the rule.</summary>
    public LocalDate Start { get; }

    /// <summary>
    /// The shortest gap in days between one date and the next among the first 500; null with fewer than two dates.
    /// </summary>
    public int? ShortestGapDays => _shortestGapDays.Value;

    /// <summary>
    /// Reads a rule. Null and a refusal when it is none (<c>cadence.rule_invalid</c>), has several slots a day
    /// (<c>cadence.rule_too_frequent</c>), yields no date within 30 years (<c>cadence.rule_empty</c>), or when the
    /// start lies outside 1900 to 2199 (<c>cadence.start_invalid</c>).
    /// </summary>
    /// <param name="rrule">RFC 5545 section 3.3.10, without a leading <c>RRULE:</c>: FREQ=WEEKLY;BYDAY=TH.</param>
    /// <param name="start">The local date the rule counts from.</param>
    public static CadenceRule? TryParse(string rrule, LocalDate start, out Refusal? refusal)
    {
        if (rrule is null || rrule.Length > RuleText.LongestRule)
        {
            RuleText.Read(rrule ?? "", out refusal);
            return null;
        }

        if (!Remembered.TryGetValue((rrule, start), out var answer))
        {
            if (Remembered.Count >= MostRemembered)
            {
                Remembered.Clear();
            }

            answer = Remembered.GetOrAdd((rrule, start), Parse(rrule, start));
        }

        (var rule, refusal) = answer;
        return rule;
    }

    /// <summary>The slots, ascending; <paramref name="from"/> included, <paramref name="to"/> excluded.</summary>
    public IReadOnlyList<LocalDate> Between(LocalDate from, LocalDate to) => _dates.Between(from, to);

    /// <summary>Whether the rule has a slot on <paramref name="date"/>.</summary>
    public bool Contains(LocalDate date) => _dates.Contains(date);

    /// <summary>The first slot strictly later than <paramref name="date"/>; null when the rule has ended.</summary>
    public LocalDate? After(LocalDate date) => _dates.After(date);

    /// <summary>The last slot strictly earlier than <paramref name="date"/>; null when there is none yet.</summary>
    public LocalDate? Before(LocalDate date) => _dates.Before(date);

    private static (CadenceRule?, Refusal?) Parse(string rrule, LocalDate start)
    {
        if (start.Year is < 1900 or > LastYear)
        {
            return (null, Refusal.NotAcceptable("cadence.start_invalid",
                $"The cadence starts in {start.Year}; a start from 1900 to {LastYear} is accepted, e.g. 2026-01-01.",
                "/cadence/start"));
        }

        if (RuleText.Read(rrule, out var refusal) is not { } text)
        {
            return (null, refusal);
        }

        var rule = new CadenceRule(rrule, start, text);
        return rule._dates.First(1) is [var first] && first <= start.PlusYears(YearsToFirstDate)
            ? (rule, null)
            : (null, Refusal.NotAcceptable("cadence.rule_empty",
                $"The cadence's rule names no date within {YearsToFirstDate} years of its start (30 February, say, or "
                + $"an UNTIL before the first slot); a rule with at least one date is accepted. {RuleText.Example}",
                RuleText.Member));
    }

    private int? ShortestGap()
    {
        var dates = _dates.First(GapSample);
        return dates.Count < 2
            ? null
            : dates.Zip(dates.Skip(1), (one, next) => NodaTime.Period.DaysBetween(one, next)).Min();
    }

    // COUNT and UNTIL are applied here, on dates, so that no zone or time of day can shift them.
    private static IEnumerable<LocalDate> Expand(RuleText rule, LocalDate start)
    {
        var dates = Endless(rule, start);
        if (rule.Until is { } until)
        {
            dates = dates.TakeWhile(date => date <= until);
        }

        return rule.Count is { } count ? dates.Take(count) : dates;
    }

    // In UTC the wall clock has no gaps, which Ical.Net would otherwise fall into.
    private static IEnumerable<LocalDate> Endless(RuleText rule, LocalDate start)
    {
        var origin = new CalDateTime(start.ToDateTimeUnspecified(), "UTC");
        var slots = new CalendarEvent { Start = origin, RecurrenceRule = new RecurrenceRule(rule.Endless) };
        var limits = new EvaluationOptions { MaxUnmatchedIncrementsLimit = PatienceWith(rule.Frequency) };
        using var occurrences = slots.GetOccurrences(origin, limits).GetEnumerator();
        while (TryNext(occurrences, out var date) && date.Year <= LastYear)
        {
            yield return date;
        }
    }

    // Forty years of steps: the longest wait of a sensible rule is for a 29 February on a given weekday across 2100.
    private static int PatienceWith(string frequency) => frequency switch
    {
        "DAILY" => 14_650,
        "WEEKLY" => 2_100,
        "MONTHLY" => 490,
        _ => 45,
    };

    private static bool TryNext(IEnumerator<Occurrence> occurrences, out LocalDate date)
    {
        date = default;
        try
        {
            if (!occurrences.MoveNext())
            {
                return false;
            }
        }
        catch (EvaluationException)
        {
            // Ical.Net's way of saying that nothing more matches before its limits.
            return false;
        }

        date = LocalDate.FromDateTime(occurrences.Current.Period.StartTime.Value);
        return true;
    }
}
