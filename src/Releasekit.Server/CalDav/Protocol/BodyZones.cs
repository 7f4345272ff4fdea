namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The zones of a body by their TZIDs, each read when it is first asked for: of a VTIMEZONE in the body if there is
/// one, whatever its name says, else of the tz database (as RFC 7809 allows).
/// </summary>
internal sealed class BodyZones(TextPart calendar)
{
    private readonly Dictionary<string, DateTimeZone> _known = new(StringComparer.Ordinal);

    // Enough for zones that list every change since 1900, or for 25 that have two rules each.
    private int _patience = 1_000;

    /// <exception cref="BodyRefusedException">There is no such zone, or its VTIMEZONE cannot be read.</exception>
    public DateTimeZone Find(string id)
    {
        if (!_known.TryGetValue(id, out var zone))
        {
            _known[id] = zone = Read(id);
        }

        return zone;
    }

    private DateTimeZone Read(string id)
    {
        var described = calendar.Parts.FirstOrDefault(part =>
            part.Name == "VTIMEZONE" && part.First("TZID")?.Value is { } value
            && (value == id || TextValues.Unescape(value) == id));

        return described is not null
            ? BodyZone.Read(id, described, ref _patience)
            : DateTimeZoneProviders.Tzdb.GetZoneOrNull(id) ?? throw new BodyRefusedException(BodyFault.Malformed(
                $"The zone '{BodyRefusedException.Shortened(id)}' is neither described nor known."));
    }
}
