namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The body of a PUT behind its gate: one VEVENT or VTODO with one UID, perhaps with overrides of single occurrences,
/// and whatever else the client wrote. Nothing in it is fetched.
/// <code>
/// bounds   1 MiB, 50,000 lines, 5,000 components, 4 deep, 500 overrides, years 1970 to 2199,
///          RRULE by the day at most, COUNT and INTERVAL to 1,000, BY lists to 60, RDATE and EXDATE to 2,000
/// borne    LF, a byte order mark, lines of any length, folds inside characters, missing DTSTAMP, PRODID, VERSION or
///          media type, DATE or DATE-TIME whatever VALUE says, unknown properties, components and parameters
/// </code>
/// </summary>
internal sealed class CalendarBody
{
    private const int MostOverrides = 500;
    private const int LongestUid = 1_000;

    // What a calendar collection may hold one kind of (RFC 5545, 3.6 and RFC 7953); a VTIMEZONE stands beside any.
    private static readonly string[] Kinds = ["VEVENT", "VTODO", "VJOURNAL", "VFREEBUSY", "VAVAILABILITY"];

    private CalendarBody(string raw, CalendarText text, ComponentKind kind, string uid, List<CalendarItem> items)
    {
        (Raw, Text, Kind, Uid) = (raw, text, kind, uid);
        Main = items.Find(item => item.RecurrenceId is null) ?? items[0];
        Overrides = [.. items.Where(item => !ReferenceEquals(item, Main))];
    }

    /// <summary>
    /// The text as it was sent, without a byte order mark. Served again as UTF-8 it is the sent bytes unless they had
    /// one, or a character with a fold in it.
    /// </summary>
    public string Raw { get; }

    public CalendarText Text { get; }

    public ComponentKind Kind { get; }

    /// <summary>As written; at most 1,000 characters.</summary>
    public string Uid { get; }

    /// <summary>The component itself; one with a RECURRENCE-ID when the body has only such.</summary>
    public CalendarItem Main { get; }

    /// <summary>The other components: single occurrences that differ.</summary>
    public IReadOnlyList<CalendarItem> Overrides { get; }

    /// <summary>Reads a body; null and the fault when it must be refused.</summary>
    /// <param name="contentType">As sent, null when there was none.</param>
    /// <param name="wanted">What the collection holds.</param>
    public static CalendarBody? TryRead(
        byte[] body, string? contentType, ComponentKind wanted, out BodyFault? fault)
    {
        try
        {
            var raw = BodyBytes.Read(body, contentType);
            var text = CalendarText.TryRead(raw, out fault);

            return text is null ? null : Read(raw, text, wanted);
        }
        catch (BodyRefusedException refused)
        {
            fault = refused.Fault;
            return null;
        }
    }

    private static CalendarBody Read(string raw, CalendarText text, ComponentKind wanted)
    {
        var calendar = text.Calendar;
        CheckHead(calendar);
        var parts = PartsOf(calendar, wanted);
        var uid = UidOf(parts);
        CheckOccurrences(parts);
        var reader = new ItemReader(new BodyZones(calendar));

        return new(raw, text, wanted, uid, parts.ConvertAll(reader.Read));
    }

    private static void CheckHead(TextPart calendar)
    {
        if (calendar.All("VERSION").Any(line => line.Value.Trim() != "2.0"))
        {
            throw new BodyRefusedException(BodyFault.OtherMedia("Only iCalendar 2.0 is read here."));
        }

        if (calendar.First("METHOD") is not null)
        {
            throw NoSingleObject("A stored calendar has no METHOD.");
        }
    }

    private static List<TextPart> PartsOf(TextPart calendar, ComponentKind wanted)
    {
        var parts = calendar.Parts.Where(part => Kinds.Contains(part.Name)).ToList();
        var kinds = parts.Select(part => part.Name).Distinct().ToList();

        return kinds switch
        {
            [] => throw NoSingleObject("There is neither a VEVENT nor a VTODO."),
            [var kind] when kind == wanted.ComponentName() => parts,
            [var kind] => throw new BodyRefusedException(BodyFault.OtherKind(
                $"This collection holds {wanted.ComponentName()}, no {kind}.")),
            _ => throw NoSingleObject($"There are {string.Join(" and ", kinds)} in one body."),
        };
    }

    private static string UidOf(List<TextPart> parts)
    {
        var uids = parts
            .SelectMany(part => part.All("UID").Select(line => line.Value).DefaultIfEmpty(""))
            .Distinct(StringComparer.Ordinal)
            .ToList();

        return uids switch
        {
            [{ Length: > LongestUid }] => throw NoSingleObject($"The UID has more than {LongestUid} characters."),
            [var uid] when !string.IsNullOrWhiteSpace(uid) => uid,
            _ => throw NoSingleObject("All components must have the same one UID."),
        };
    }

    private static void CheckOccurrences(List<TextPart> parts)
    {
        var mains = parts.Count(part => part.First("RECURRENCE-ID") is null);
        if (mains > 1)
        {
            throw NoSingleObject("Of the components of one UID all but one must have a RECURRENCE-ID.");
        }

        if (parts.Count - mains > MostOverrides)
        {
            throw new BodyRefusedException(BodyFault.TooMany($"There are more than {MostOverrides} overrides."));
        }
    }

    private static BodyRefusedException NoSingleObject(string detail) => new(BodyFault.NoSingleObject(detail));
}
