using System.Globalization;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Reads what a VEVENT or VTODO says, and checks that it recurs within bounds.</summary>
internal sealed class ItemReader(BodyZones zones)
{
    private readonly TimeReader _times = new(zones);

    /// <exception cref="BodyRefusedException">A value is none of its type, or out of bounds.</exception>
    public CalendarItem Read(TextPart part)
    {
        var duration = TimeReader.Single(part, "DURATION") is { } span ? SpanValues.Read(span.Value.Trim()) : null;
        var end = _times.One(part, "DTEND");
        var due = _times.One(part, "DUE");

        return new()
        {
            RecurrenceId = _times.One(part, "RECURRENCE-ID"),
            Summary = Text(part, "SUMMARY"),
            Description = Text(part, "DESCRIPTION"),
            Location = Text(part, "LOCATION"),
            Start = StartOf(part),
            End = end,
            Duration = duration,
            Due = due,
            Finish = (part.Name == "VEVENT" ? end : due) ?? FinishOf(part, duration),
            Status = Word(part, "STATUS"),
            Completed = _times.One(part, "COMPLETED"),
            PercentComplete = Number(part, "PERCENT-COMPLETE", 100),
            Priority = Number(part, "PRIORITY", 9),
            Class = Word(part, "CLASS"),
            Transp = Word(part, "TRANSP"),
            Categories = [.. part.All("CATEGORIES").SelectMany(line => TextValues.Split(line.Value))],
            Rrule = RuleOf(part),
            Exdates = _times.Many(part, "EXDATE"),
            Rdates = _times.Many(part, "RDATE"),
            Sequence = Number(part, "SEQUENCE", int.MaxValue) ?? 0,
        };
    }

    private CalendarTime? StartOf(TextPart part) => _times.One(part, "DTSTART") is { } start ? start
        : part.Name != "VEVENT" ? null
        : throw new BodyRefusedException(BodyFault.Malformed("A VEVENT has no DTSTART."));

    private CalendarTime? FinishOf(TextPart part, Period? duration) => duration is not null
        ? _times.After(part, "DTSTART", duration)
        : part.Name != "VEVENT" ? null
        : _times.One(part, "DTSTART") is CalendarDay day ? new CalendarDay(day.On.PlusDays(1))
        : _times.One(part, "DTSTART");

    // Only the component that the occurrences come from is evaluated, so that a body costs one evaluation.
    private static string? RuleOf(TextPart part)
    {
        if (TimeReader.Single(part, "RRULE") is not { } line)
        {
            return null;
        }

        var rule = RecurrenceText.Read(line.Value.Trim());
        var isOverride = part.First("RECURRENCE-ID") is not null;

        return isOverride || TimeReader.Origin(part) is not { } origin || RecurrenceDates.Of(rule.Dates, origin).Any()
            ? line.Value
            : throw new BodyRefusedException(BodyFault.Malformed("A recurrence rule never comes true."));
    }

    private static string? Text(TextPart part, string name) =>
        part.First(name) is { } line ? TextValues.Unescape(line.Value) : null;

    private static string? Word(TextPart part, string name) => part.First(name)?.Value.Trim().ToUpperInvariant();

    private static int? Number(TextPart part, string name, int most) =>
        int.TryParse(part.First(name)?.Value, NumberStyles.AllowLeadingWhite | NumberStyles.AllowTrailingWhite,
            CultureInfo.InvariantCulture, out var number) && number <= most
            ? number
            : null;
}
