using System.Xml.Linq;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>One property that a PROPPATCH sets or removes.</summary>
/// <param name="Property">As it was sent, with its value and its attributes; neither counts in a removal.</param>
internal sealed record PropChange(XElement Property, bool IsRemoval)
{
    public XName Name => Property.Name;
}

/// <summary>The body of a PROPPATCH (RFC 4918 s.9.2).</summary>
/// <param name="Changes">In the order of the document, in which they take effect; a name may come twice.</param>
internal sealed record PropPatch(IReadOnlyList<PropChange> Changes)
{
    public static PropPatch? TryRead(XElement? body, out DavFault? fault)
    {
        var changes =
            from instruction in body?.Name == DavNames.PropertyUpdate ? body.Elements() : []
            where instruction.Name == DavNames.Set || instruction.Name == DavNames.Remove
            from property in instruction.Elements(DavNames.Prop).Elements()
            select new PropChange(property, instruction.Name == DavNames.Remove);
        var patch = new PropPatch([.. changes]);

        fault = patch.Changes.Count == 0 ? DavFault.Malformed : null;

        return fault is null ? patch : null;
    }
}
