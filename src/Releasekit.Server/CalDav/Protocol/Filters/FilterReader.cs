using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// Reads a filter by the grammar of RFC 4791 section 9.7. Elements of other namespaces are passed over (RFC 4918
/// section 17); names are those of iCalendar, in which case does not matter. Non-standard names are searched like all
/// others, so that <c>CALDAV:supported-filter</c> is never violated.
/// </summary>
internal static class FilterReader
{
    private const int MostElements = 100;

    /// <summary>Null and a fault when the element is no filter.</summary>
    public static ComponentFilter? Read(XElement filter, out FilterFault? fault)
    {
        try
        {
            Require(filter.Name == FilterNames.Filter);
            Require(!filter.Descendants().Skip(MostElements).Any());
            RequireOnly(filter, FilterNames.CompFilter);
            fault = null;
            return Component(OnlyOne(filter, FilterNames.CompFilter) ?? throw Refuse(FilterFault.NotValid), null);
        }
        catch (RefusedException refused)
        {
            fault = refused.Fault;
            return null;
        }
    }

    private static ComponentFilter Component(XElement element, string? parent)
    {
        RequireOnly(
            element, FilterNames.IsNotDefined, FilterNames.TimeRange, FilterNames.PropFilter, FilterNames.CompFilter);
        var name = NameOf(element);
        Require(FilterNames.MayHold(parent, name));
        var range = Range(element, FilterNames.HasRange(name));
        return new(
            name, IsNotDefined(element), range,
            [.. element.Elements(FilterNames.PropFilter).Select(Property)],
            [.. element.Elements(FilterNames.CompFilter).Select(one => Component(one, name))]);
    }

    private static PropertyFilter Property(XElement element)
    {
        RequireOnly(
            element, FilterNames.IsNotDefined, FilterNames.TimeRange, FilterNames.TextMatch, FilterNames.ParamFilter);
        var name = NameOf(element);
        var (range, text) = (Range(element, FilterNames.IsDated(name)), Text(element));
        Require(range is null || text is null);
        return new(
            name, IsNotDefined(element), range, text,
            [.. element.Elements(FilterNames.ParamFilter).Select(Parameter)]);
    }

    private static ParameterFilter Parameter(XElement element)
    {
        RequireOnly(element, FilterNames.IsNotDefined, FilterNames.TextMatch);
        return new(NameOf(element), IsNotDefined(element), Text(element));
    }

    private static TimeRange? Range(XElement parent, bool isDefined)
    {
        if (OnlyOne(parent, FilterNames.TimeRange) is not { } element)
        {
            return null;
        }

        Require(isDefined);
        return TimeRange.TryRead(element) ?? throw Refuse(FilterFault.NotValid);
    }

    private static TextMatch? Text(XElement parent)
    {
        if (OnlyOne(parent, FilterNames.TextMatch) is not { } element)
        {
            return null;
        }

        var isExact = (element.Attribute("collation")?.Value ?? "default") switch
        {
            "i;octet" => true,
            "default" or "i;ascii-casemap" => false,
            _ => throw Refuse(FilterFault.UnknownCollation),
        };
        var isNegated = (element.Attribute("negate-condition")?.Value ?? "no") switch
        {
            "yes" => true,
            "no" => false,
            _ => throw Refuse(FilterFault.NotValid),
        };
        return new(element.Value, isExact, isNegated);
    }

    private static bool IsNotDefined(XElement parent)
    {
        var isThere = OnlyOne(parent, FilterNames.IsNotDefined) is not null;
        Require(!isThere || parent.Elements().Count(IsOurs) == 1);
        return isThere;
    }

    private static string NameOf(XElement element)
    {
        var name = element.Attribute("name")?.Value.Trim().ToUpperInvariant() ?? "";
        Require(name.Length > 0);
        return name;
    }

    private static XElement? OnlyOne(XElement parent, XName name)
    {
        var named = parent.Elements(name).Take(2).ToList();
        Require(named.Count < 2);
        return named.FirstOrDefault();
    }

    private static void RequireOnly(XElement element, params XName[] names) =>
        Require(element.Elements().Where(IsOurs).All(child => names.Contains(child.Name)));

    private static bool IsOurs(XElement element) => element.Name.Namespace == FilterNames.CalDav;

    private static void Require(bool isValid)
    {
        if (!isValid)
        {
            throw Refuse(FilterFault.NotValid);
        }
    }

    private static RefusedException Refuse(FilterFault fault) => new(fault);

    /// <summary>Ends the reading from any depth; never leaves this class.</summary>
    private sealed class RefusedException(FilterFault fault) : Exception
    {
        public FilterFault Fault { get; } = fault;
    }
}
