namespace Releasekit.Server.CalDav.Protocol;

/// <summary>A component of a <see cref="CalendarText"/>, from its BEGIN to its END.</summary>
/// <param name="Name">In upper case.</param>
/// <param name="Begin">The line it begins with.</param>
/// <param name="Properties">Its own, in the order written; not those of the components in it.</param>
/// <param name="Parts">The components in it.</param>
internal sealed record TextPart(
    string Name, CalendarLine Begin, IReadOnlyList<CalendarLine> Properties, IReadOnlyList<TextPart> Parts)
{
    /// <summary>The first property of a name, or null.</summary>
    /// <param name="name">In upper case.</param>
    public CalendarLine? First(string name) => Properties.FirstOrDefault(line => line.Name == name);

    /// <summary>All properties of a name.</summary>
    /// <param name="name">In upper case.</param>
    public IEnumerable<CalendarLine> All(string name) => Properties.Where(line => line.Name == name);
}
