using System.Xml.Linq;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav.Querying;

/// <summary>The filter of a calendar-query (RFC 4791 s.9.7), read.</summary>
/// <param name="Name">Of the component, in upper case.</param>
/// <param name="IsMissing">Whether it must not be there.</param>
/// <param name="Range">In which it must lie; null for no matter when.</param>
internal sealed record ComponentFilter(
    string Name, bool IsMissing, Interval? Range, IReadOnlyList<PropertyFilter> Properties,
    IReadOnlyList<ComponentFilter> Components);

/// <param name="Name">Of the property, in upper case.</param>
/// <param name="IsMissing">Whether it must not be there.</param>
/// <param name="Range">In which its time must lie.</param>
/// <param name="Text">What its value must hold.</param>
internal sealed record PropertyFilter(
    string Name, bool IsMissing, Interval? Range, TextMatch? Text, IReadOnlyList<ParameterFilter> Parameters);

/// <param name="Name">Of the parameter, in upper case.</param>
/// <param name="IsMissing">Whether it must not be there.</param>
/// <param name="Text">What its value must hold.</param>
internal sealed record ParameterFilter(string Name, bool IsMissing, TextMatch? Text);

/// <param name="Part">Anywhere in the value.</param>
/// <param name="IsExact">i;octet: letter by letter; otherwise ASCII letters are alike in both cases.</param>
/// <param name="IsNegated">Whether it must not be found.</param>
internal sealed record TextMatch(string Part, bool IsExact, bool IsNegated)
{
    public bool Matches(string value) => value.Contains(
        Part, IsExact ? StringComparison.Ordinal : StringComparison.OrdinalIgnoreCase) != IsNegated;
}

/// <summary>Reads filters; what makes no sense, or is asked of a text that has no time, is a fault.</summary>
internal static class FilterReading
{
    private static readonly NodaTime.Text.InstantPattern Utc =
        NodaTime.Text.InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    private static readonly string[] Timed =
        ["DTSTART", "DTEND", "DUE", "COMPLETED", "CREATED", "DTSTAMP", "LAST-MODIFIED", "RECURRENCE-ID"];

    public static ComponentFilter? TryRead(XElement filter, out DavFault? fault)
    {
        var roots = filter.Elements(DavNames.CalDav + "comp-filter").ToArray();

        try
        {
            fault = null;
            return roots is [var root] && Component(root) is { Name: "VCALENDAR" } read
                ? read
                : throw new FilterException(DavConditions.ValidFilter);
        }
        catch (FilterException broken)
        {
            fault = DavFault.Forbidden(broken.Condition);
            return null;
        }
    }

    private static ComponentFilter Component(XElement element) => new(
        NameOf(element),
        IsMissing(element),
        Range(element),
        [.. element.Elements(DavNames.CalDav + "prop-filter").Select(Property)],
        [.. element.Elements(DavNames.CalDav + "comp-filter").Select(Component)]);

    private static PropertyFilter Property(XElement element)
    {
        var (name, range) = (NameOf(element), Range(element));

        return range is not null && !Timed.Contains(name)
            ? throw new FilterException(DavConditions.ValidFilter)
            : new(
                name, IsMissing(element), range, Text(element),
                [
                    .. element.Elements(DavNames.CalDav + "param-filter").Select(
                        one => new ParameterFilter(NameOf(one), IsMissing(one), Text(one))),
                ]);
    }

    private static string NameOf(XElement element) => (string?)element.Attribute("name") is { Length: > 0 } name
        ? name.ToUpperInvariant()
        : throw new FilterException(DavConditions.ValidFilter);

    private static bool IsMissing(XElement element) => element.Element(DavNames.CalDav + "is-not-defined") is not null;

    private static TextMatch? Text(XElement element)
    {
        if (element.Element(DavNames.CalDav + "text-match") is not { } match)
        {
            return null;
        }

        return (string?)match.Attribute("collation") switch
        {
            null or "i;ascii-casemap" or "default" => new(match.Value, IsExact: false, IsNegated(match)),
            "i;octet" => new(match.Value, IsExact: true, IsNegated(match)),
            _ => throw new FilterException(DavConditions.SupportedCollation),
        };
    }

    private static bool IsNegated(XElement match) => (string?)match.Attribute("negate-condition") == "yes";

    /// <summary>Either end may be left out, not both.</summary>
    private static Interval? Range(XElement element)
    {
        if (element.Element(DavNames.CalDav + "time-range") is not { } range)
        {
            return null;
        }

        var (start, end) = (At(range, "start"), At(range, "end"));

        return (start, end) is (null, null) || end <= start
            ? throw new FilterException(DavConditions.ValidFilter)
            : new Interval(start, end);
    }

    private static Instant? At(XElement range, string name) => (string?)range.Attribute(name) switch
    {
        null => null,
        var text when Utc.Parse(text) is { Success: true } at => at.Value,
        _ => throw new FilterException(DavConditions.ValidFilter),
    };

    private sealed class FilterException(XName condition) : Exception
    {
        public XName Condition { get; } = condition;
    }
}
