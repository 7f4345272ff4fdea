using System.Globalization;
using System.Text.RegularExpressions;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>DURATION values (RFC 5545, 3.3.6): weeks and days of the calendar, then hours to seconds.</summary>
internal static partial class SpanValues
{
    private const int MostDigits = 9;
    private static readonly Duration Longest = Duration.FromDays((WallTimes.LastYear - WallTimes.FirstYear + 1) * 366);

    /// <exception cref="BodyRefusedException">It is none, or longer than all the years served.</exception>
    public static Period Read(string value)
    {
        var match = Form().Match(value);
        if (!match.Success || value.EndsWith('P') || value.EndsWith('T'))
        {
            throw new BodyRefusedException(BodyFault.Malformed(
                $"'{BodyRefusedException.Shortened(value)}' is no duration."));
        }

        var sign = match.Groups["sign"].Value == "-" ? -1 : 1;
        var period = new PeriodBuilder
        {
            Weeks = sign * (int)Part(match, "weeks"),
            Days = sign * (int)Part(match, "days"),
            Hours = sign * Part(match, "hours"),
            Minutes = sign * Part(match, "minutes"),
            Seconds = sign * Part(match, "seconds"),
        }.Build();
        var length = period.ToDuration();

        return length <= Longest && length >= -Longest
            ? period
            : throw new BodyRefusedException(BodyFault.TooLate("A duration is longer than all the years served."));
    }

    private static long Part(Match match, string name) => match.Groups[name] switch
    {
        { Success: false } => 0,
        { Length: > MostDigits } => throw new BodyRefusedException(BodyFault.TooLate("A duration is too long.")),
        var digits => long.Parse(digits.ValueSpan, NumberStyles.None, CultureInfo.InvariantCulture),
    };

    [GeneratedRegex(
        @"\A(?<sign>[+-])?P(?:(?<weeks>[0-9]+)W)?(?:(?<days>[0-9]+)D)?"
        + @"(?:T(?:(?<hours>[0-9]+)H)?(?:(?<minutes>[0-9]+)M)?(?:(?<seconds>[0-9]+)S)?)?\z",
        RegexOptions.NonBacktracking)]
    private static partial Regex Form();
}
