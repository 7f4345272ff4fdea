namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// Why the body of a PUT is not taken (RFC 4791, 5.3.2.1). 403 says that the same body will always fail.
/// </summary>
/// <param name="Status">The HTTP status.</param>
/// <param name="Condition">The local name of the child of DAV:error; all are of the CALDAV namespace.</param>
/// <param name="Detail">For people and logs. It may repeat a little of the body, never a line break.</param>
internal sealed record BodyFault(int Status, string Condition, string Detail)
{
    /// <summary>Not text/calendar, or not of a version or charset that is read here.</summary>
    public static BodyFault OtherMedia(string detail) => Always("supported-calendar-data", detail);

    /// <summary>No iCalendar by its syntax or values.</summary>
    public static BodyFault Malformed(string detail) => Always("valid-calendar-data", detail);

    /// <summary>iCalendar, but not one object of one kind with one UID (RFC 4791, 4.1).</summary>
    public static BodyFault NoSingleObject(string detail) => Always("valid-calendar-object-resource", detail);

    /// <summary>A kind that the collection does not hold.</summary>
    public static BodyFault OtherKind(string detail) => Always("supported-calendar-component", detail);

    public static BodyFault TooLarge(string detail) => Always("max-resource-size", detail);

    public static BodyFault TooEarly(string detail) => Always("min-date-time", detail);

    public static BodyFault TooLate(string detail) => Always("max-date-time", detail);

    /// <summary>A recurrence that could fill more than its share.</summary>
    public static BodyFault TooMany(string detail) => Always("max-instances", detail);

    private static BodyFault Always(string condition, string detail) =>
        new(StatusCodes.Status403Forbidden, condition, detail);
}
