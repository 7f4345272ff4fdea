namespace Releasekit.Server.CalDav.Protocol;

/// <summary>What a calendar collection holds; always one kind: clients show a mixed one as empty.</summary>
internal enum ComponentKind
{
    Event,
    Todo,
}

internal static class ComponentKinds
{
    /// <summary>As RFC 5545 calls the component.</summary>
    public static string ComponentName(this ComponentKind kind) => kind == ComponentKind.Event ? "VEVENT" : "VTODO";
}
