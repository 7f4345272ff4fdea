namespace Releasekit.Server.Calendar;

/// <summary>
/// What a calendar says of itself (RFC 7986, and the older X- names that readers still look for). With nothing set it
/// is the bare head of a single object, as CalDAV serves it. There is never a METHOD: RFC 4791, 4.1 forbids it in
/// stored objects, and RFC 5546, 3.2.1 makes PUBLISH require an ORGANIZER, which turns events into invitations.
/// </summary>
internal sealed record CalendarHead(string? Name = null)
{
    public string? Description { get; init; }

    /// <summary>The IANA zone a reader should show the calendar in; it brings no VTIMEZONE of its own.</summary>
    public string? ZoneId { get; init; }

    /// <summary>A CSS3 colour name (RFC 7986, 5.9); anything else is left out.</summary>
    public string? Color { get; init; }

    /// <summary>Where the calendar can be fetched again; absolute.</summary>
    public Uri? Source { get; init; }

    /// <summary>How often a reader should fetch; positive.</summary>
    public Duration? RefreshInterval { get; init; }

    public string? Uid { get; init; }

    /// <summary>When any of the calendar's entries last changed.</summary>
    public Instant? ChangedAt { get; init; }

    public static string? NamedColor(string? color) =>
        color is not null && color.All(char.IsAsciiLetter) ? color : null;

    public void Write(ContentLines lines)
    {
        lines.Name("VERSION").Token("2.0");
        lines.Name("PRODID").Token("-//Releasekit//Calendar//EN");
        lines.Name("CALSCALE").Token("GREGORIAN");
        lines.Text("UID", Uid);
        if (ChangedAt is { } changed)
        {
            lines.Utc("LAST-MODIFIED", changed);
        }

        lines.Text("NAME", Name);
        lines.Text("X-WR-CALNAME", Name);
        lines.Text("DESCRIPTION", Description);
        lines.Text("X-WR-TIMEZONE", ZoneId);
        lines.Text("COLOR", NamedColor(Color));
        if (Source is not null)
        {
            lines.Name("SOURCE").Param("VALUE", "URI").Uri(Source);
        }

        if (RefreshInterval is { } interval)
        {
            lines.Name("REFRESH-INTERVAL").Param("VALUE", "DURATION").Span(interval);
            lines.Name("X-PUBLISHED-TTL").Span(interval);
        }
    }
}
