namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Carries a fault out of the readers below <see cref="CalendarBody"/>; it never leaves the gate.</summary>
internal sealed class BodyRefusedException(BodyFault fault) : Exception(fault.Detail)
{
    public BodyFault Fault { get; } = fault;

    /// <summary>What of a body may stand in a fault's detail.</summary>
    public static string Shortened(string text) => text.Length <= 40 ? text : $"{text[..40]}…";
}
