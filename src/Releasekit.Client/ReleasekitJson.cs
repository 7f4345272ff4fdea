using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime.Serialization.SystemTextJson;
using NodaTime.Text;

namespace Releasekit.Client;

/// <summary>
/// How the client reads and writes JSON: as the service does, but members it does not know are passed over.
/// </summary>
public static class ReleasekitJson
{
    /// <summary>For everything the client sends and reads.</summary>
    public static JsonSerializerOptions Options { get; } = new(JsonSerializerDefaults.Web)
    {
        DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull,
        Converters =
        {
            new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false),
            new NodaPatternConverter<Instant>(ApiPatterns.Instant),
            new NodaPatternConverter<LocalDate>(LocalDatePattern.Iso),
            new NodaPatternConverter<LocalTime>(ApiPatterns.TimeOfDay),
            new NodaPatternConverter<LocalDateTime>(ApiPatterns.LocalDateTime),
            new NodaPatternConverter<Duration>(ApiPatterns.Elapsed),
        },
    };
}
