using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime.Serialization.SystemTextJson;
using Releasekit.Client;

namespace Releasekit.Server.Http;

/// <summary>How the API reads and writes JSON: strict when reading, one spelling when writing.</summary>
internal static class ApiJson
{
    private const int DeepestNesting = 32;

    /// <summary>The options of every request and answer.</summary>
    public static readonly JsonSerializerOptions Options = Configured(
        new JsonSerializerOptions(JsonSerializerDefaults.Web));

    /// <summary>Sets <paramref name="options"/> up as <see cref="Options"/> are.</summary>
    public static JsonSerializerOptions Configured(JsonSerializerOptions options)
    {
        options.NumberHandling = JsonNumberHandling.Strict;
        options.PropertyNameCaseInsensitive = false;
        options.UnmappedMemberHandling = JsonUnmappedMemberHandling.Disallow;
        options.AllowDuplicateProperties = false;
        options.RespectNullableAnnotations = true;
        options.RespectRequiredConstructorParameters = true;
        options.MaxDepth = DeepestNesting;
        options.Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping;
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.SnakeCaseLower, allowIntegerValues: false));
        options.Converters.Add(new NodaPatternConverter<Instant>(ApiPatterns.Instant));
        options.Converters.Add(new NodaPatternConverter<LocalDate>(ApiPatterns.Date));
        options.Converters.Add(new NodaPatternConverter<LocalTime>(ApiPatterns.TimeOfDay));
        options.Converters.Add(new NodaPatternConverter<LocalDateTime>(ApiPatterns.LocalDateTime));
        options.Converters.Add(new NodaPatternConverter<Duration>(ApiPatterns.Elapsed));

        return options;
    }
}
