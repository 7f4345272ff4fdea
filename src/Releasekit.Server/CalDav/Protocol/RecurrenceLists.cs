using System.Globalization;
using System.Text.RegularExpressions;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>The BY lists of a recurrence rule, and what may stand in each (RFC 5545, 3.3.10).</summary>
internal static partial class RecurrenceLists
{
    private const int MostEntries = 60;

    private static readonly Dictionary<string, (int Least, int Most, bool IsSigned)> Numbers = new()
    {
        ["BYMONTH"] = (1, 12, false),
        ["BYMONTHDAY"] = (1, 31, true),
        ["BYYEARDAY"] = (1, 366, true),
        ["BYWEEKNO"] = (1, 53, true),
        ["BYSETPOS"] = (1, 366, true),
        ["BYHOUR"] = (0, 23, false),
        ["BYMINUTE"] = (0, 59, false),
        ["BYSECOND"] = (0, 60, false),
    };

    public static bool IsKnown(string name) => name == "BYDAY" || Numbers.ContainsKey(name);

    /// <summary>Checks a part of a rule, if it is such a list or the start of the week.</summary>
    /// <exception cref="BodyRefusedException">It has too many entries, or one that no list of its name has.</exception>
    public static void Check(string name, string list)
    {
        var entries = list.Split(',');
        if (IsKnown(name) && entries.Length > MostEntries)
        {
            throw new BodyRefusedException(BodyFault.TooMany($"{name} has more than {MostEntries} entries."));
        }

        var areRight = name switch
        {
            "BYDAY" => entries.All(entry => NumberedWeekday().IsMatch(entry)),
            "WKST" => Weekday().IsMatch(list),
            "RSCALE" => list == "GREGORIAN",
            _ => !Numbers.TryGetValue(name, out var range) || entries.All(entry => IsWithin(entry, range)),
        };
        if (!areRight)
        {
            throw new BodyRefusedException(BodyFault.Malformed(
                $"'{BodyRefusedException.Shortened(list)}' is nothing that {name} can say."));
        }
    }

    private static bool IsWithin(string entry, (int Least, int Most, bool IsSigned) range) =>
        int.TryParse(
            entry,
            range.IsSigned ? NumberStyles.AllowLeadingSign : NumberStyles.None,
            CultureInfo.InvariantCulture,
            out var number)
        && number >= -range.Most && Math.Abs(number) >= range.Least && number <= range.Most;

    [GeneratedRegex(@"\A(?:MO|TU|WE|TH|FR|SA|SU)\z")]
    private static partial Regex Weekday();

    [GeneratedRegex(@"\A(?:[+-]?(?:[1-9]|[1-4][0-9]|5[0-3]))?(?:MO|TU|WE|TH|FR|SA|SU)\z")]
    private static partial Regex NumberedWeekday();
}
