using NodaTime.Text;
using NodaTime.TimeZones;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>DATE, DATE-TIME, DURATION and UTC-OFFSET values (RFC 5545, 3.3), read strictly and in bounds.</summary>
internal static class WallTimes
{
    public const int FirstYear = 1970;
    public const int LastYear = 2199;

    /// <summary>A skipped wall time is read with the offset before the gap, of a repeated one the first is meant.
    /// </summary>
    public static readonly ZoneLocalMappingResolver OfTheStandard =
        Resolvers.CreateMappingResolver(Resolvers.ReturnEarlier, Resolvers.ReturnForwardShifted);

    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("uuuuMMdd");

    private static readonly LocalDateTimePattern Time =
        LocalDateTimePattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss");

    private static readonly OffsetPattern[] OffsetForms =
        [OffsetPattern.CreateWithInvariantCulture("+HHmm"), OffsetPattern.CreateWithInvariantCulture("+HHmmss")];

    /// <summary>A DATE as its midnight, or a DATE-TIME, and which it is; any year.</summary>
    /// <exception cref="BodyRefusedException">There is no such day or time.</exception>
    public static (LocalDateTime Wall, bool IsDate, bool IsUtc) Read(string value)
    {
        if (Day.Parse(value) is { Success: true, Value: var day })
        {
            return (day.AtMidnight(), true, false);
        }

        var isUtc = value.EndsWith('Z');
        var text = isUtc ? value[..^1] : value;
        var isLeap = text.Length == 15 && text.EndsWith("60", StringComparison.Ordinal);

        // A leap second is the standard's, but not NodaTime's; it becomes the second before.
        return Time.Parse(isLeap ? $"{text[..13]}59" : text) is { Success: true, Value: var time }
            ? (time, false, isUtc)
            : throw Malformed($"'{BodyRefusedException.Shortened(value)}' is no date or time.");
    }

    /// <exception cref="BodyRefusedException">It is in a year that is not served.</exception>
    public static void Bound(LocalDateTime wall)
    {
        if (wall.Year < FirstYear)
        {
            throw new BodyRefusedException(BodyFault.TooEarly($"The years begin with {FirstYear} here."));
        }

        if (wall.Year > LastYear)
        {
            throw new BodyRefusedException(BodyFault.TooLate($"The years end with {LastYear} here."));
        }
    }

    /// <exception cref="BodyRefusedException">It is none, or of 18 hours and more.</exception>
    public static Offset ReadOffset(string value)
    {
        foreach (var form in OffsetForms)
        {
            if (form.Parse(value) is { Success: true, Value: var offset })
            {
                return offset;
            }
        }

        throw Malformed($"'{BodyRefusedException.Shortened(value)}' is no offset from UTC.");
    }

    private static BodyRefusedException Malformed(string detail) => new(BodyFault.Malformed(detail));
}
