using System.Globalization;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// A recurrence rule (RFC 5545, 3.3.10) that may be evaluated: by the day at most, COUNT and INTERVAL from 1 to 1000,
/// lists of 60 at most. Parts of other names are passed over.
/// </summary>
/// <param name="Frequency">DAILY, WEEKLY, MONTHLY or YEARLY.</param>
/// <param name="Parts">All by their names, in upper case.</param>
internal sealed record RecurrenceText(
    string Frequency,
    int Interval,
    int? Count,
    (LocalDateTime Wall, bool IsDate, bool IsUtc)? Until,
    IReadOnlyDictionary<string, string> Parts)
{
    private const int MostRepeats = 1_000;

    private static readonly string[] ByTheDay = ["DAILY", "WEEKLY", "MONTHLY", "YEARLY"];
    private static readonly string[] WithinTheDay = ["HOURLY", "MINUTELY", "SECONDLY"];
    private static readonly string[] TimesOfDay = ["BYHOUR", "BYMINUTE", "BYSECOND"];

    /// <summary>The rule without its end and its times of day, which only multiply what matches.</summary>
    public string Dates => string.Join(';', Parts
        .Where(part => IsOfDates(part.Key))
        .Select(part => $"{part.Key}={part.Value.Replace("+", "", StringComparison.Ordinal)}"));

    /// <param name="areYearsBound">Whether UNTIL must lie in the years served.</param>
    /// <exception cref="BodyRefusedException">It is none, or not one that may be evaluated.</exception>
    public static RecurrenceText Read(string value, bool areYearsBound = true)
    {
        var parts = Split(value.ToUpperInvariant());
        var frequency = FrequencyOf(parts);
        var interval = Number(parts, "INTERVAL") ?? 1;
        var count = Number(parts, "COUNT");
        foreach (var (name, list) in parts)
        {
            RecurrenceLists.Check(name, list);
        }

        (LocalDateTime Wall, bool IsDate, bool IsUtc)? until = parts.TryGetValue("UNTIL", out var text)
            ? WallTimes.Read(text)
            : null;
        if (areYearsBound && until is { } last)
        {
            WallTimes.Bound(last.Wall);
        }

        return new(frequency, interval, count, until, parts);
    }

    // A position counts the times of day too; without them it would pick another day or none.
    private bool IsOfDates(string name) => name is "FREQ" or "INTERVAL" or "WKST"
        || (RecurrenceLists.IsKnown(name) && !TimesOfDay.Contains(name)
            && !(name == "BYSETPOS" && TimesOfDay.Any(Parts.ContainsKey)));

    private static Dictionary<string, string> Split(string rule)
    {
        var parts = new Dictionary<string, string>(StringComparer.Ordinal);
        foreach (var part in rule.TrimEnd(';').Split(';'))
        {
            var equals = part.IndexOf('=', StringComparison.Ordinal);
            if (equals < 1 || !parts.TryAdd(part[..equals].Trim(), part[(equals + 1)..].Trim()))
            {
                throw Malformed($"'{BodyRefusedException.Shortened(part)}' is no part of a rule, or is its second.");
            }
        }

        return parts;
    }

    private static string FrequencyOf(Dictionary<string, string> parts)
    {
        var frequency = parts.GetValueOrDefault("FREQ", "");
        if (WithinTheDay.Contains(frequency))
        {
            throw new BodyRefusedException(BodyFault.TooMany($"FREQ={frequency} recurs within the day."));
        }

        return ByTheDay.Contains(frequency)
            ? frequency
            : throw Malformed($"FREQ={BodyRefusedException.Shortened(frequency)} is unknown.");
    }

    private static int? Number(Dictionary<string, string> parts, string name)
    {
        if (!parts.TryGetValue(name, out var text))
        {
            return null;
        }

        var isNumber = text.Length > 0 && text.All(char.IsAsciiDigit) && text.Any(digit => digit != '0');
        if (!isNumber)
        {
            throw Malformed($"{name}={BodyRefusedException.Shortened(text)} is no number from 1 on.");
        }

        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var number)
            && number <= MostRepeats
            ? number
            : throw new BodyRefusedException(BodyFault.TooMany($"{name} is more than {MostRepeats}."));
    }

    private static BodyRefusedException Malformed(string detail) => new(BodyFault.Malformed(detail));
}
