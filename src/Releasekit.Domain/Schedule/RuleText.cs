using System.Globalization;
using NodaTime.Text;

namespace Releasekit.Domain.Schedule;

/// <summary>
/// A recurrence rule read as text, RFC 5545 section 3.3.10, and found to be one a cadence may have:
/// <list type="table">
/// <item><term>FREQ</term><description>DAILY, WEEKLY, MONTHLY or YEARLY; nothing within the day.</description></item>
/// <item><term>INTERVAL, COUNT</term><description>1 to 1000.</description></item>
/// <item><term>UNTIL</term><description>A date, or a date-time read as its date; not with COUNT.</description></item>
/// <item><term>BY…</term><description>Lists as <see cref="RuleLists"/> allows, 60 entries at most.</description></item>
/// </list>
/// At most 512 characters; upper and lower case are the same; parts in any order, each once.
/// </summary>
/// <param name="Frequency">Upper case.</param>
/// <param name="Count">How many dates the rule has at most; null when it does not say.</param>
/// <param name="Until">The last date the rule may yield, included; null when it does not say.</param>
/// <param name="Endless">The rule without COUNT and UNTIL, upper case.</param>
internal sealed record RuleText(string Frequency, int? Count, LocalDate? Until, string Endless)
{
    internal const string Member = "/cadence/rrule";
    internal const string Example = "For example: FREQ=WEEKLY;BYDAY=TH.";
    internal const int LongestRule = 512;
    private const int MostRepeats = 1000;

    private static readonly string[] WithinTheDay = ["SECONDLY", "MINUTELY", "HOURLY"];
    private static readonly string[] ByTheDay = ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"];
    private static readonly string[] TimesOfDay = ["BYHOUR", "BYMINUTE", "BYSECOND"];

    /// <summary>Reads a rule; null and the refusal when a cadence cannot have it.</summary>
    internal static RuleText? Read(string rrule, out Refusal? refusal)
    {
        refusal = FaultOfText(rrule);
        if (refusal is not null)
        {
            return null;
        }

        var parts = Split(rrule.ToUpperInvariant(), out refusal);
        refusal ??= FaultOfFrequency(parts) ?? RuleLists.FaultIn(parts) ?? FaultOfBounds(parts);
        if (refusal is not null)
        {
            return null;
        }

        var endless = parts.Where(part => part.Key is not ("COUNT" or "UNTIL")).Select(part =>
            $"{part.Key}={part.Value.Replace("+", "", StringComparison.Ordinal)}");
        return new RuleText(
            parts["FREQ"],
            parts.TryGetValue("COUNT", out var count) ? int.Parse(count, CultureInfo.InvariantCulture) : null,
            parts.TryGetValue("UNTIL", out var until) ? ReadUntil(until) : null,
            string.Join(';', endless));
    }

    internal static Refusal Invalid(string fault) =>
        Refusal.NotAcceptable("cadence.rule_invalid", $"{fault} {Example}", Member);

    internal static string Shortened(string text) => text.Length <= 40 ? text : $"{text[..40]}…";

    private static Refusal? FaultOfText(string rrule) => rrule switch
    {
        null or "" => Invalid("The cadence's rule is empty; write an RFC 5545 recurrence rule."),
        { Length: > LongestRule } =>
            Invalid($"The cadence's rule has {rrule.Length} characters; at most {LongestRule} are read."),
        _ when rrule.Any(letter => letter is < ' ' or > '~') =>
            Invalid("The cadence's rule holds a character that is not plain ASCII; write letters, digits and =;,+-."),
        _ when rrule.StartsWith("RRULE:", StringComparison.OrdinalIgnoreCase) =>
            Invalid("The cadence's rule is written without the leading RRULE: of a calendar file; leave that out."),
        _ => null,
    };

    private static Dictionary<string, string> Split(string rule, out Refusal? refusal)
    {
        var parts = new Dictionary<string, string>(StringComparer.Ordinal);
        refusal = null;
        foreach (var part in rule.Split(';'))
        {
            var equals = part.IndexOf('=', StringComparison.Ordinal);
            if (equals < 1 || equals == part.Length - 1)
            {
                refusal = Invalid($"\"{Shortened(part)}\" in the cadence's rule is not NAME=VALUE; "
                    + "write parts joined by semicolons, none empty.");
            }
            else if (!parts.TryAdd(part[..equals], part[(equals + 1)..]))
            {
                refusal = Invalid($"The cadence's rule says {Shortened(part[..equals])} twice; say each part once.");
            }
        }

        return parts;
    }

    private static Refusal? FaultOfFrequency(Dictionary<string, string> parts)
    {
        if (!parts.TryGetValue("FREQ", out var frequency))
        {
            return Invalid($"The cadence's rule lacks FREQ; give one of {string.Join(", ", ByTheDay)}.");
        }

        if (WithinTheDay.Contains(frequency))
        {
            return Refusal.NotAcceptable("cadence.rule_too_frequent",
                $"FREQ={frequency} promises more than one slot a day; DAILY is the most frequent. {Example}", Member);
        }

        if (TimesOfDay.FirstOrDefault(parts.ContainsKey) is { } timeOfDay)
        {
            return Invalid($"The rule sets a time of day ({timeOfDay}); the cadence's own local time does that, "
                + "so leave the part out.");
        }

        return ByTheDay.Contains(frequency)
            ? null
            : Invalid($"FREQ={Shortened(frequency)} is unknown; give one of {string.Join(", ", ByTheDay)}.");
    }

    private static Refusal? FaultOfBounds(Dictionary<string, string> parts)
    {
        foreach (var name in new[] { "INTERVAL", "COUNT" })
        {
            if (parts.TryGetValue(name, out var text) && !IsWithin(text, 1, MostRepeats))
            {
                return Invalid($"{name}={Shortened(text)} is not a whole number from 1 to {MostRepeats}.");
            }
        }

        if (parts.ContainsKey("COUNT") && parts.ContainsKey("UNTIL"))
        {
            return Invalid("The cadence's rule says both COUNT and UNTIL; say one of them, or neither.");
        }

        return parts.TryGetValue("UNTIL", out var until) && ReadUntil(until) is null
            ? Invalid($"UNTIL={Shortened(until)} is not a date; write it as UNTIL=20271231 or UNTIL=20271231T235959Z.")
            : null;
    }

    internal static bool IsWithin(string text, int least, int most) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
        && number >= least && number <= most;

    // A cadence promises dates, so the time and the Z of a date-time are checked for form and then left aside.
    private static LocalDate? ReadUntil(string text)
    {
        var withoutZ = text.EndsWith('Z') ? text[..^1] : text;
        if (withoutZ.Length == 8 && withoutZ.Length == text.Length)
        {
            return LocalDatePattern.CreateWithInvariantCulture("uuuuMMdd").Parse(text) is { Success: true } date
                ? date.Value
                : null;
        }

        return LocalDateTimePattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss").Parse(withoutZ)
            is { Success: true } moment
            ? moment.Value.Date
            : null;
    }
}
