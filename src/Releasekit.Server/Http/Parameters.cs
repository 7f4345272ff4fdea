using System.Diagnostics.CodeAnalysis;
using NodaTime.Text;
using Releasekit.Client;

namespace Releasekit.Server.Http;

/// <summary>A local date in a query or path. NodaTime's own types would be read as the body.</summary>
internal readonly record struct DateParameter(LocalDate Value) : IParsable<DateParameter>
{
    public static DateParameter Parse(string s, IFormatProvider? provider) => new(LocalDatePattern.Iso.Parse(s).Value);

    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out DateParameter result)
    {
        var parsed = s is null ? null : LocalDatePattern.Iso.Parse(s);
        result = parsed is { Success: true, Value: var value } ? new(value) : default;
        return parsed is { Success: true };
    }
}

/// <summary>An instant in a query, RFC 3339 with any offset.</summary>
internal readonly record struct InstantParameter(Instant Value) : IParsable<InstantParameter>
{
    public static InstantParameter Parse(string s, IFormatProvider? provider) =>
        new(ApiPatterns.Instant.Parse(s).Value);

    public static bool TryParse([NotNullWhen(true)] string? s, IFormatProvider? provider, out InstantParameter result)
    {
        // In a query an unescaped plus has become a space; nothing else here has one.
        var parsed = s is null ? null : ApiPatterns.Instant.Parse(s.Replace(' ', '+'));
        result = parsed is { Success: true, Value: var value } ? new(value) : default;
        return parsed is { Success: true };
    }
}
