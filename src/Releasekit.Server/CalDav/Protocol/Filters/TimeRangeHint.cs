namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>
/// What a store may use to leave out items before they are matched one by one. It is a condition that every match
/// meets, with two cautions: the edges follow the tables of RFC 4791 section 9.9 (a to-do due at the very end is in, as
/// is one without any date), and an item that recurs may have its own dates anywhere.
/// </summary>
/// <param name="Component">VEVENT or VTODO; null when items of any kind may match.</param>
/// <param name="Start">UTC; null when open.</param>
/// <param name="End">UTC; null when open.</param>
internal sealed record TimeRangeHint(string? Component, Instant? Start, Instant? End);
