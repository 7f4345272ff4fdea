namespace Releasekit.Domain.Schedule;

/// <summary>
/// Which parts a cadence's rule may have beside its bounds, and what may stand in them (RFC 5545 section 3.3.10):
/// <list type="table">
/// <item><term>BYDAY</term><description>MO to SU; numbered (2TU, -1FR) only MONTHLY or YEARLY, never beside
/// BYWEEKNO.</description></item>
/// <item><term>BYMONTHDAY</term><description>1 to 31 or -1 to -31; not WEEKLY.</description></item>
/// <item><term>BYYEARDAY, BYWEEKNO</term><description>1 to 366, 1 to 53, or back; only YEARLY.</description></item>
/// <item><term>BYMONTH</term><description>1 to 12.</description></item>
/// <item><term>BYSETPOS</term><description>1 to 366 or counted back; only beside another BY part.</description></item>
/// <item><term>WKST</term><description>One day, MO to SU.</description></item>
/// </list>
/// </summary>
internal static class RuleLists
{
    private const int MostEntries = 60;

    private static readonly string[] Days = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

    private static readonly Dictionary<string, (int Most, bool CountsBack, string[] Frequencies)> Numbered = new()
    {
        ["BYMONTHDAY"] = (31, true, ["DAILY", "MONTHLY", "YEARLY"]),
        ["BYYEARDAY"] = (366, true, ["YEARLY"]),
        ["BYWEEKNO"] = (53, true, ["YEARLY"]),
        ["BYMONTH"] = (12, false, ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"]),
        ["BYSETPOS"] = (366, true, ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"]),
    };

    /// <summary>The first fault in the parts, whose FREQ is known to be good; null when there is none.</summary>
    internal static Refusal? FaultIn(Dictionary<string, string> parts)
    {
        foreach (var (name, value) in parts)
        {
            var fault = name switch
            {
                "FREQ" or "INTERVAL" or "COUNT" or "UNTIL" => null,
                "WKST" => Days.Contains(value) ? null : $"WKST={Shortened(value)} is not a day from MO to SU.",
                "BYDAY" => FaultOfList(name, value) ?? FaultOfDays(value, parts),
                _ when Numbered.ContainsKey(name) =>
                    FaultOfList(name, value) ?? FaultOfNumbers(name, value, parts["FREQ"]),
                _ => $"{Shortened(name)} is no part of a recurrence rule; known are FREQ, INTERVAL, COUNT, UNTIL, "
                    + "BYDAY, BYMONTHDAY, BYYEARDAY, BYWEEKNO, BYMONTH, BYSETPOS and WKST.",
            };
            if (fault is not null)
            {
                return RuleText.Invalid(fault);
            }
        }

        return parts.ContainsKey("BYSETPOS") && !parts.Keys.Any(IsOtherList)
            ? RuleText.Invalid("BYSETPOS chooses among the dates of another BY part; add one, such as BYDAY.")
            : null;
    }

    private static bool IsOtherList(string name) =>
        name == "BYDAY" || (name != "BYSETPOS" && Numbered.ContainsKey(name));

    private static string Shortened(string text) => RuleText.Shortened(text);

    private static string? FaultOfList(string name, string value)
    {
        var entries = value.Split(',');
        return entries switch
        {
            { Length: > MostEntries } => $"{name} has {entries.Length} entries; at most {MostEntries} are read.",
            _ when entries.Distinct().Count() < entries.Length => $"{name} lists an entry twice; list each once.",
            _ => null,
        };
    }

    private static string? FaultOfDays(string value, Dictionary<string, string> parts)
    {
        var mayNumber = parts["FREQ"] is "MONTHLY" or "YEARLY" && !parts.ContainsKey("BYWEEKNO");
        foreach (var entry in value.Split(','))
        {
            var number = entry.Length > 2 ? entry[..^2] : null;
            if (entry.Length < 2 || !Days.Contains(entry[^2..]) || (number is not null && !IsNumber(number, 53, true)))
            {
                return $"\"{Shortened(entry)}\" in BYDAY is not a day; write MO to SU, numbered as in 2TU or -1FR.";
            }

            if (number is not null && !mayNumber)
            {
                return $"\"{entry}\" in BYDAY is numbered, which only MONTHLY and YEARLY rules without BYWEEKNO may; "
                    + $"write {entry[^2..]}, or FREQ=MONTHLY.";
            }
        }

        return null;
    }

    private static string? FaultOfNumbers(string name, string value, string frequency)
    {
        var (most, countsBack, frequencies) = Numbered[name];
        if (!frequencies.Contains(frequency))
        {
            return $"{name} does not go with FREQ={frequency}; it goes with {string.Join(", ", frequencies)}.";
        }

        return Array.Find(value.Split(','), entry => !IsNumber(entry, most, countsBack)) is { } entry
            ? $"\"{Shortened(entry)}\" in {name} is not a number from 1 to {most}"
                + (countsBack ? $" or -1 to -{most}." : ".")
            : null;
    }

    private static bool IsNumber(string text, int most, bool countsBack)
    {
        var signed = text.StartsWith('+') || text.StartsWith('-');
        return (countsBack || !signed) && RuleText.IsWithin(signed ? text[1..] : text, 1, most);
    }
}
