using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>An object as it should be served: a pure function of what is stored, never of the time it is asked at.
/// </summary>
/// <param name="Collection">The key of its collection.</param>
internal sealed record RenderedObject(string Collection, string Uid, byte[] Body)
{
    /// <summary>What we make is called by its uid; calendar apps guess that too.</summary>
    public string Name => $"{Uid}.ics";

    public static RenderedObject Of(CalendarCollection collection, CalendarEntry entry) =>
        new(collection.Key, entry.Uid, CalendarWriter.Write(new CalendarHead(), [entry]));
}
