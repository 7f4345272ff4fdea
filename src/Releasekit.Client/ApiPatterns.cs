using System.Globalization;
using System.Text;
using NodaTime.Text;

namespace Releasekit.Client;

/// <summary>How times stand in JSON, on both sides of the wire: RFC 3339 for instants, ISO 8601 for the rest.</summary>
public static class ApiPatterns
{
    /// <summary>
    /// Read with any offset and cut to milliseconds, which is what is kept; written in UTC:
    /// <c>2026-03-05T03:00:00Z</c>.
    /// </summary>
    public static IPattern<Instant> Instant { get; } = new TwoWay<Instant>(
        text => OffsetDateTimePattern.Rfc3339.Parse(text) is { Success: true, Value: var value } && IsPlain(text)
            ? ParseResult<Instant>.ForValue(Whole(value.ToInstant()))
            : Refuse<Instant>(text, "an instant with its offset, such as 2026-03-05T03:00:00Z"),
        InstantPattern.ExtendedIso.Format);

    /// <summary>Local date: <c>2026-03-05</c>.</summary>
    public static IPattern<LocalDate> Date { get; } = new TwoWay<LocalDate>(
        text => First(text, LocalDatePattern.Iso) ?? Refuse<LocalDate>(text, "a date such as 2026-03-05"),
        LocalDatePattern.Iso.Format);

    /// <summary>Local time of day: <c>07:00</c>, with seconds only where there are any.</summary>
    public static IPattern<LocalTime> TimeOfDay { get; } = new TwoWay<LocalTime>(
        text => First(text, LocalTimePattern.CreateWithInvariantCulture("HH:mm"), LocalTimePattern.GeneralIso)
            ?? Refuse<LocalTime>(text, "a time of day such as 07:00"),
        value => value.ToString(value.Second == 0 ? "HH:mm" : "HH:mm:ss", CultureInfo.InvariantCulture));

    /// <summary>Local date and time without zone: <c>2026-03-05T07:00</c>.</summary>
    public static IPattern<LocalDateTime> LocalDateTime { get; } = new TwoWay<LocalDateTime>(
        text => First(
                text, LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm"),
                LocalDateTimePattern.GeneralIso)
            ?? Refuse<LocalDateTime>(text, "a local date and time without zone, such as 2026-03-05T07:00"),
        LocalDateTimePattern.GeneralIso.Format);

    /// <summary>Elapsed time, a day being 24 hours: <c>PT2H30M</c>, <c>P3D</c>, <c>-PT2H</c>.</summary>
    public static IPattern<Duration> Elapsed { get; } = new TwoWay<Duration>(ParseElapsed, FormatElapsed);

    private static ParseResult<T>? First<T>(string text, params IPattern<T>[] patterns) =>
        patterns.Select(pattern => pattern.Parse(text)).FirstOrDefault(result => result.Success);

    private static Instant Whole(Instant at) => NodaTime.Instant.FromUnixTimeMilliseconds(at.ToUnixTimeMilliseconds());

    /// <summary>RFC 3339 has no 24:00, and years before 1 and after 9999 are nobody's release.</summary>
    private static bool IsPlain(string text) =>
        text.Length > 13 && char.IsAsciiDigit(text[0]) && !text.AsSpan(11, 2).SequenceEqual("24");

    private static ParseResult<Duration> ParseElapsed(string text)
    {
        // A sign in front of the whole, as W3C XML Schema has it, is how a negative float is written.
        var isNegative = text.StartsWith("-P", StringComparison.Ordinal);
        var period = PeriodPattern.Roundtrip.Parse(isNegative ? text[1..] : text);

        return period is { Success: true, Value: { Months: 0, Years: 0 } value } && text.Length <= 40
            && text.IndexOfAny(['s', 't', 'n']) < 0 && IsModest(value)
            ? ParseResult<Duration>.ForValue(isNegative ? -value.ToDuration() : value.ToDuration())
            : Refuse<Duration>(
                text, "an ISO 8601 duration in weeks, days, hours, minutes or seconds, such as PT2H30M or P3D");
    }

    private static bool IsModest(Period value)
    {
        const long limit = 1_000_000_000;
        return new[] { value.Weeks, value.Days, value.Hours, value.Minutes, value.Seconds }.All(
            n => n is > -limit and < limit);
    }

    private static string FormatElapsed(Duration value)
    {
        if (value == Duration.Zero)
        {
            return "PT0S";
        }

        var sign = value < Duration.Zero ? "-" : string.Empty;
        var left = value < Duration.Zero ? -value : value;

        if (left.TotalDays >= 2 && left == Duration.FromDays(left.Days))
        {
            return string.Create(CultureInfo.InvariantCulture, $"{sign}P{left.Days}D");
        }

        var text = new StringBuilder($"{sign}PT");
        Append((long)left.TotalHours, 'H');
        Append(left.Minutes, 'M');
        var seconds = left.Seconds + (left.SubsecondNanoseconds / 1e9);

        if (seconds > 0)
        {
            text.Append(seconds.ToString("0.#########", CultureInfo.InvariantCulture)).Append('S');
        }

        return text.ToString();

        void Append(long number, char unit)
        {
            if (number > 0)
            {
                text.Append(number.ToString(CultureInfo.InvariantCulture)).Append(unit);
            }
        }
    }

    private static ParseResult<T> Refuse<T>(string text, string right)
    {
        var shown = text.Length > 40 ? text[..40] + "…" : text;
        return ParseResult<T>.ForException(() => new FormatException($"'{shown}' is not {right}."));
    }

    private sealed class TwoWay<T>(Func<string, ParseResult<T>> parse, Func<T, string> format) : IPattern<T>
    {
        public ParseResult<T> Parse(string text) => parse(text);

        public string Format(T value) => format(value);

        public StringBuilder AppendFormat(T value, StringBuilder builder) => builder.Append(format(value));
    }
}
