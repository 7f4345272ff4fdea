using Ical.Net;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>What is asked of one parameter of a property (RFC 4791 section 9.7.3).</summary>
/// <param name="IsNotDefined">Whether it must be absent.</param>
/// <param name="Text">Null when it need only be there.</param>
internal sealed record ParameterFilter(string Name, bool IsNotDefined, TextMatch? Text)
{
    public bool Matches(ICalendarProperty property)
    {
        var named = property.Parameters.Where(one => Name.Equals(one.Name, StringComparison.OrdinalIgnoreCase));
        return IsNotDefined ? !named.Any() : named.Any(one => Text?.Matches(string.Join(',', one.Values)) ?? true);
    }
}
