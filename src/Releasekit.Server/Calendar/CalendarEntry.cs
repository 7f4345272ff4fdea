namespace Releasekit.Server.Calendar;

/// <summary>What events and to-dos have in common. Optional texts are left out when empty.</summary>
/// <param name="Uid">Unique and for ever the same; it is the identity that every reader keeps.</param>
/// <param name="ChangedAt">
/// When what is shown last changed: both DTSTAMP and LAST-MODIFIED, never the time of writing.
/// </param>
internal abstract record CalendarEntry(string Uid, Instant ChangedAt, string Summary)
{
    /// <summary>From 0, must never fall; readers keep the higher one.</summary>
    public int Sequence { get; init; }

    public Instant? CreatedAt { get; init; }

    public string? Description { get; init; }

    /// <summary>Absolute.</summary>
    public Uri? Url { get; init; }

    public IReadOnlyList<string> Categories { get; init; } = [];

    /// <summary>A CSS3 colour name (RFC 7986, 5.9); anything else is left out.</summary>
    public string? Color { get; init; }

    /// <summary>Empty unless the person asked for them: readers add their own.</summary>
    public IReadOnlyList<CalendarAlarm> Alarms { get; init; } = [];

    /// <summary>Gives the times as they are written, so that their zones are described as far as they reach.</summary>
    public abstract void Collect(ZonesUsed zones);

    public abstract void Write(ContentLines lines);

    protected void WriteCommon(ContentLines lines)
    {
        lines.Name("UID").Text(Uid);
        lines.Utc("DTSTAMP", ChangedAt);
        if (CreatedAt is { } created)
        {
            lines.Utc("CREATED", created);
        }

        lines.Utc("LAST-MODIFIED", ChangedAt);
        lines.Number("SEQUENCE", Sequence);
        lines.Name("SUMMARY").Text(Summary);
        lines.Text("DESCRIPTION", Description);
        if (Url is not null)
        {
            lines.Name("URL").Uri(Url);
        }

        lines.Texts("CATEGORIES", Categories);
        lines.Text("COLOR", CalendarHead.NamedColor(Color));
    }
}

/// <summary>A reminder on the screen (VALARM with ACTION:DISPLAY).</summary>
/// <param name="Uid">RFC 9074, 4: lets a reader's snooze find its alarm again.</param>
/// <param name="Before">Before an event's start or a to-do's due time; negative means after it.</param>
internal sealed record CalendarAlarm(string Uid, Duration Before, string Text)
{
    public void Write(ContentLines lines, bool isOfDueTime)
    {
        lines.Begin("VALARM");
        lines.Name("UID").Text(Uid);
        lines.Name("ACTION").Token("DISPLAY");
        (isOfDueTime ? lines.Name("TRIGGER").Param("RELATED", "END") : lines.Name("TRIGGER")).Span(-Before);
        lines.Name("DESCRIPTION").Text(Text);
        lines.End("VALARM");
    }
}
