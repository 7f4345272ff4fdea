using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Which parts of a component of a calendar are asked for (RFC 4791 s.9.6.1).</summary>
/// <param name="Name">Such as VEVENT, in upper case.</param>
/// <param name="Properties">Null for all of them; each name, in upper case, with whether its value is wanted.</param>
/// <param name="Components">Null for all of them.</param>
internal sealed record ComponentWish(
    string Name, IReadOnlyDictionary<string, bool>? Properties, IReadOnlyList<ComponentWish>? Components)
{
    /// <summary>Null unless this and all below it have names. No deeper than the reader of bodies goes.</summary>
    public static ComponentWish? TryRead(XElement component)
    {
        var properties = component.Elements(DavNames.CalProp)
            .Select(property => (Name: NameOf(property), HasValue: (string?)property.Attribute("novalue") != "yes"))
            .ToList();
        var components = component.Elements(DavNames.CalComp).Select(TryRead).ToList();

        return NameOf(component) is not { } name
            || properties.Exists(property => property.Name is null) || components.Contains(null)
            ? null
            : new(
                name,
                component.Element(DavNames.CalAllProp) is not null ? null : properties
                    .GroupBy(property => property.Name!, property => property.HasValue, StringComparer.Ordinal)
                    .ToDictionary(same => same.Key, same => same.Any(hasValue => hasValue), StringComparer.Ordinal),
                component.Element(DavNames.CalAllComp) is not null ? null : [.. components.OfType<ComponentWish>()]);
    }

    private static string? NameOf(XElement element) =>
        (string?)element.Attribute("name") is { Length: > 0 } name ? name.ToUpperInvariant() : null;
}
