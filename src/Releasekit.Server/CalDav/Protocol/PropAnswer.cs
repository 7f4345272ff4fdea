using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>What became of one property: its value, its change, or why there is none (RFC 4918 s.14.22).</summary>
/// <param name="Property">With its value, or empty.</param>
/// <param name="Condition">Names the rule that a refusal is about, if there is one for it.</param>
internal sealed record PropAnswer(int Status, XElement Property, XName? Condition = null)
{
    public static PropAnswer Found(XName name, params object?[] content) =>
        new(StatusCodes.Status200OK, new(name, content));

    public static PropAnswer Missing(XName name) => new(StatusCodes.Status404NotFound, new(name));

    public static PropAnswer Refused(XName name, XName? condition = null) =>
        new(StatusCodes.Status403Forbidden, new(name), condition);

    /// <summary>Not done since another change of the same request was refused.</summary>
    public static PropAnswer Dependent(XName name) => new(StatusCodes.Status424FailedDependency, new(name));
}
