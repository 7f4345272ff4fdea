namespace Releasekit.Server.Calendar;

/// <summary>A VEVENT. It has no ORGANIZER or ATTENDEE: readers would show it as an invitation.</summary>
internal sealed record EventEntry(string Uid, Instant ChangedAt, string Summary, CalendarTime Start)
    : CalendarEntry(Uid, ChangedAt, Summary)
{
    private static readonly Duration LeastLength = Duration.FromMinutes(15);

    /// <summary>
    /// Exclusive. Readers need an end later than the start and of its kind, so where this is not one (or is null, as
    /// for a publication, which has no length) a quarter of an hour or one day is written.
    /// </summary>
    public CalendarTime? End { get; init; }

    public EventStatus Status { get; init; } = EventStatus.Confirmed;

    /// <summary>True keeps it out of busy time.</summary>
    public bool IsTransparent { get; init; }

    private CalendarTime EndAsWritten => (End, Start) switch
    {
        ({ } end, _) when end.IsAfter(Start) => end,
        (_, CalendarMoment start) => start with { At = start.At + LeastLength },
        (_, CalendarDay start) => new CalendarDay(start.On.PlusDays(1)),
        _ => throw new InvalidOperationException("A calendar time is a moment or a day."),
    };

    public override void Collect(ZonesUsed zones)
    {
        zones.Add(Start);
        zones.Add(EndAsWritten);
    }

    public override void Write(ContentLines lines)
    {
        lines.Begin("VEVENT");
        WriteCommon(lines);
        lines.Time("DTSTART", Start);
        lines.Time("DTEND", EndAsWritten);
        lines.Name("STATUS").Token(Status switch
        {
            EventStatus.Tentative => "TENTATIVE",
            EventStatus.Cancelled => "CANCELLED",
            _ => "CONFIRMED",
        });
        lines.Name("TRANSP").Token(IsTransparent ? "TRANSPARENT" : "OPAQUE");
        foreach (var alarm in Alarms)
        {
            alarm.Write(lines, isOfDueTime: false);
        }

        lines.End("VEVENT");
    }
}

/// <summary>RFC 5545, 3.8.1.11 for events.</summary>
internal enum EventStatus
{
    Confirmed,
    Tentative,
    Cancelled,
}
