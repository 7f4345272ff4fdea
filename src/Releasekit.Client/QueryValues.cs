using System.Reflection;
using NodaTime.Text;
using Refit;

namespace Releasekit.Client;

/// <summary>Writes times in a query as they stand in JSON, and truth values in lower case.</summary>
internal sealed class QueryValues : DefaultUrlParameterFormatter
{
    public override string? Format(object? value, ICustomAttributeProvider attributeProvider, Type type) => value switch
    {
        Instant instant => ApiPatterns.Instant.Format(instant),
        LocalDate date => LocalDatePattern.Iso.Format(date),
        bool truth => truth ? "true" : "false",
        _ => base.Format(value, attributeProvider, type),
    };
}
