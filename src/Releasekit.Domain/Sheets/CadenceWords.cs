using System.Globalization;
using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Sheets;

/// <summary>Says in words when a series promises something: "Thursdays 07:00".</summary>
public static class CadenceWords
{
    private static readonly Dictionary<string, string> Days = new(StringComparer.Ordinal)
    {
        ["MO"] = "Mondays",
        ["TU"] = "Tuesdays",
        ["WE"] = "Wednesdays",
        ["TH"] = "Thursdays",
        ["FR"] = "Fridays",
        ["SA"] = "Saturdays",
        ["SU"] = "Sundays",
    };

    private static readonly Dictionary<string, string> Ordinals = new(StringComparer.Ordinal)
    {
        ["1"] = "first",
        ["2"] = "second",
        ["3"] = "third",
        ["4"] = "fourth",
        ["5"] = "fifth",
        ["-1"] = "last",
    };

    /// <summary>The usual rules in words; any other one as RFC 5545 writes it.</summary>
    public static string Of(CadenceTerms terms) =>
        $"{Dates(terms)} {SheetWording.Of(terms.Time)}";

    private static string Dates(CadenceTerms terms)
    {
        var parts = terms.Rrule.ToUpperInvariant()
            .Split(';', StringSplitOptions.RemoveEmptyEntries)
            .Select(part => part.Split('=', 2))
            .Where(part => part.Length == 2 && part[0] is not ("WKST" or "UNTIL" or "COUNT"))
            .ToDictionary(part => part[0], part => part[1]);
        var interval = parts.Remove("INTERVAL", out var every)
            ? int.Parse(every, CultureInfo.InvariantCulture) : 1;
        parts.Remove("FREQ", out var frequency);

        return (frequency, parts.Count) switch
        {
            ("DAILY", 0) => interval == 1 ? "daily" : $"every {interval} days",
            ("WEEKLY", 0) => Weekly(interval, [Days.Values.ElementAt((int)terms.Start.DayOfWeek - 1)]),
            ("WEEKLY", 1) when parts.TryGetValue("BYDAY", out var days) && NamesOf(days) is { } names =>
                Weekly(interval, names),
            ("MONTHLY", 1) when parts.TryGetValue("BYMONTHDAY", out var day) && day is not ['-', ..] =>
                $"{Monthly(interval)} on the {day.Replace(",", ", ", StringComparison.Ordinal)}.",
            ("MONTHLY", 1) when parts.TryGetValue("BYDAY", out var nth) && Nth(nth) is { } which =>
                $"{Monthly(interval)} on the {which}",
            _ => terms.Rrule,
        };
    }

    private static string Weekly(int interval, IReadOnlyList<string> days) => interval switch
    {
        1 => Joined(days),
        2 => $"every other week, {Joined(days)}",
        _ => $"every {interval} weeks, {Joined(days)}",
    };

    private static string Monthly(int interval) => interval == 1 ? "monthly" : $"every {interval} months";

    private static string[]? NamesOf(string days) =>
        days.Split(',') is var codes && codes.All(Days.ContainsKey) ? [.. codes.Select(code => Days[code])] : null;

    private static string? Nth(string day) =>
        day.Length > 2 && Ordinals.TryGetValue(day[..^2].TrimStart('+'), out var ordinal)
        && Days.TryGetValue(day[^2..], out var name)
            ? $"{ordinal} {name[..^1]}"
            : null;

    private static string Joined(IReadOnlyList<string> days) => days.Count == 1
        ? days[0]
        : $"{string.Join(", ", days.SkipLast(1))} and {days[^1]}";
}
