namespace Releasekit.Server.Calendar;

/// <summary>
/// A VTODO. Readers disagree on what marks a to-do as done, so a completed one carries all three signs and an open
/// one none of them:
/// <code>
/// needs action, cancelled   STATUS
/// in process                STATUS, and PERCENT-COMPLETE where it is 1 to 99
/// completed                 STATUS, COMPLETED, PERCENT-COMPLETE:100
/// </code>
/// </summary>
internal sealed record TodoEntry(string Uid, Instant ChangedAt, string Summary) : CalendarEntry(Uid, ChangedAt, Summary)
{
    /// <summary>Better a moment than a day: the standard reads a day as its beginning, people as its end.</summary>
    public CalendarTime? Due { get; init; }

    /// <summary>Left out unless before <see cref="Due"/> and of its kind: readers would drop or rewrite it.</summary>
    public CalendarTime? Start { get; init; }

    public TodoStatus Status { get; init; }

    /// <summary>Of a completed to-do only; null then means <see cref="CalendarEntry.ChangedAt"/>.</summary>
    public Instant? CompletedAt { get; init; }

    public int? PercentComplete { get; init; }

    /// <summary>1 (highest) to 9 (lowest); anything else is left out.</summary>
    public int? Priority { get; init; }

    /// <summary>The uid of the parent. Some readers drop it on edit; nothing may depend on getting it back.</summary>
    public string? RelatedTo { get; init; }

    private CalendarTime? StartAsWritten => Start is not null && Due is not null && Due.IsAfter(Start) ? Start : null;

    public override void Collect(ZonesUsed zones)
    {
        zones.Add(StartAsWritten);
        zones.Add(Due);
    }

    public override void Write(ContentLines lines)
    {
        lines.Begin("VTODO");
        WriteCommon(lines);
        WriteTimes(lines);
        WriteProgress(lines);
        if (Priority is >= 1 and <= 9)
        {
            lines.Number("PRIORITY", Priority.Value);
        }

        lines.Text("RELATED-TO", RelatedTo);
        WriteAlarms(lines);
        lines.End("VTODO");
    }

    private void WriteTimes(ContentLines lines)
    {
        if (StartAsWritten is { } start)
        {
            lines.Time("DTSTART", start);
        }

        if (Due is not null)
        {
            lines.Time("DUE", Due);
        }
    }

    private void WriteProgress(ContentLines lines)
    {
        lines.Name("STATUS").Token(Status switch
        {
            TodoStatus.InProcess => "IN-PROCESS",
            TodoStatus.Completed => "COMPLETED",
            TodoStatus.Cancelled => "CANCELLED",
            _ => "NEEDS-ACTION",
        });
        if (Status == TodoStatus.Completed)
        {
            lines.Utc("COMPLETED", CompletedAt ?? ChangedAt);
            lines.Number("PERCENT-COMPLETE", 100);
        }
        else if (Status == TodoStatus.InProcess && PercentComplete is >= 1 and <= 99)
        {
            lines.Number("PERCENT-COMPLETE", PercentComplete.Value);
        }
    }

    // An alarm counts from the due time; without one it has nothing to count from (RFC 5545, 3.8.6.3).
    private void WriteAlarms(ContentLines lines)
    {
        foreach (var alarm in Due is null ? [] : Alarms)
        {
            alarm.Write(lines, isOfDueTime: true);
        }
    }
}

/// <summary>RFC 5545, 3.8.1.11 for to-dos.</summary>
internal enum TodoStatus
{
    NeedsAction,
    InProcess,
    Completed,
    Cancelled,
}
