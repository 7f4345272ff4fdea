using System.Text.RegularExpressions;
using Ical.Net;
using Ical.Net.Serialization;

namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// The value of a property as a text to search in: a text without its escapes, all else as it is written.
/// </summary>
internal static partial class PropertyText
{
    public static string Of(ICalendarProperty property) => property.Values.All(value => value is string)
        ? string.Join(',', property.Values)
        : AsWritten(property);

    private static string AsWritten(ICalendarProperty property)
    {
        var line = Fold().Replace(new PropertySerializer().SerializeToString(property) ?? "", "").TrimEnd();
        return BeforeValue().Replace(line, "", 1);
    }

    [GeneratedRegex(@"\r?\n[ \t]")]
    private static partial Regex Fold();

    [GeneratedRegex("""\A(?:[^:"]|"[^"]*")*:""")]
    private static partial Regex BeforeValue();
}
