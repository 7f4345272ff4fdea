using Microsoft.Extensions.Primitives;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>How much of an answer a client wants.</summary>
internal static class ReturnPreference
{
    /// <summary>
    /// Whether what is not found may be left out: <c>Prefer: return=minimal</c> (RFC 7240 s.4.2, RFC 8144 s.2.1), or
    /// <c>Brief: t</c>, which older clients send.
    /// </summary>
    /// <param name="prefer">The values of the header Prefer; of two that disagree the first counts.</param>
    /// <param name="brief">The values of the header Brief.</param>
    public static bool IsMinimal(StringValues prefer, StringValues brief) =>
        brief.Any(value => string.Equals(value?.Trim(), "t", StringComparison.OrdinalIgnoreCase))
        || prefer.SelectMany(value => value?.Split(',') ?? [])
            .Select(preference => preference.Split(';')[0].Split('=', 2))
            .Where(parts => string.Equals(parts[0].Trim(), "return", StringComparison.OrdinalIgnoreCase))
            .Select(parts => parts.ElementAtOrDefault(1)?.Trim().Trim('"'))
            .FirstOrDefault() is "minimal";
}
