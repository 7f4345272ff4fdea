using System.Globalization;

namespace Releasekit.Server.Calendar;

/// <summary>
/// The time value types of RFC 5545, 3.3: whole seconds (a fraction is cut off), four-digit years, durations in the
/// largest units down to seconds with no gap between them (PT1H0M30S), offsets with seconds only where they have any.
/// </summary>
internal static class TimeValues
{
    public static void Utc(this ContentLines lines, string name, Instant at)
    {
        Span<char> text = stackalloc char[16];
        Format(at.InUtc().LocalDateTime, text);
        text[15] = 'Z';
        lines.Name(name).Token(text);
    }

    /// <summary>Wall times without a zone of their own, in the order given; at least one.</summary>
    public static void Wall(this ContentLines lines, params ReadOnlySpan<LocalDateTime> times)
    {
        Span<char> text = times.Length <= 16 ? stackalloc char[times.Length * 16] : new char[times.Length * 16];
        for (var i = 0; i < times.Length; i++)
        {
            Format(times[i], text[(i * 16)..]);
            text[(i * 16) + 15] = ',';
        }

        lines.Token(text[..^1]);
    }

    /// <summary>A moment in its zone where the wall time tells it exactly, else in UTC; a day as a DATE.</summary>
    public static void Time(this ContentLines lines, string name, CalendarTime time)
    {
        switch (time)
        {
            case CalendarDay day:
                Span<char> text = stackalloc char[8];
                Format(day.On, text);
                lines.Name(name).Param("VALUE", "DATE").Token(text);
                break;
            case CalendarMoment { Wall: { } wall, Zone: { } zone }:
                lines.Name(name).Param("TZID", zone.Id).Wall(wall);
                break;
            case CalendarMoment moment:
                lines.Utc(name, moment.At);
                break;
        }
    }

    public static void Span(this ContentLines lines, Duration span)
    {
        var seconds = (long)Math.Abs(span.TotalSeconds);
        var (days, rest) = Math.DivRem(seconds, 86_400);
        var (hours, minutes, last) = (rest / 3600, rest / 60 % 60, rest % 60);
        var clock = (hours, minutes, last) switch
        {
            (0, 0, 0) => days == 0 ? "T0S" : "",
            ( > 0, _, > 0) => $"T{hours}H{minutes}M{last}S",
            ( > 0, > 0, 0) => $"T{hours}H{minutes}M",
            ( > 0, 0, 0) => $"T{hours}H",
            (_, > 0, > 0) => $"T{minutes}M{last}S",
            (_, > 0, _) => $"T{minutes}M",
            _ => $"T{last}S",
        };
        var sign = span < Duration.Zero && seconds > 0 ? "-" : "";
        lines.Token(string.Create(CultureInfo.InvariantCulture, $"{sign}P{(days > 0 ? $"{days}D" : "")}{clock}"));
    }

    public static void Offset(this ContentLines lines, string name, Offset offset)
    {
        var seconds = Math.Abs(offset.Seconds);
        Span<char> text = stackalloc char[7];
        text[0] = offset.Seconds < 0 ? '-' : '+';
        Digits(seconds / 3600, text[1..3]);
        Digits(seconds / 60 % 60, text[3..5]);
        Digits(seconds % 60, text[5..7]);
        lines.Name(name).Token(seconds % 60 == 0 ? text[..5] : text);
    }

    private static void Format(LocalDateTime time, Span<char> text)
    {
        Format(time.Date, text);
        text[8] = 'T';
        Digits(time.Hour, text[9..11]);
        Digits(time.Minute, text[11..13]);
        Digits(time.Second, text[13..15]);
    }

    private static void Format(LocalDate date, Span<char> text)
    {
        Digits(date.Year, text[..4]);
        Digits(date.Month, text[4..6]);
        Digits(date.Day, text[6..8]);
    }

    private static void Digits(int value, Span<char> text)
    {
        for (var i = text.Length - 1; i >= 0; i--, value /= 10)
        {
            text[i] = (char)('0' + (value % 10));
        }
    }
}
