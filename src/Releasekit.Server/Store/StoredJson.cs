using System.Text.Json;
using System.Text.Json.Serialization;
using Marten;
using NodaTime.Serialization.SystemTextJson;
using Weasel.Core;

namespace Releasekit.Server.Store;

/// <summary>
/// How documents and events are written into the database. A contract with what is stored: changed with care.
/// </summary>
internal static class StoredJson
{
    public static void Use(StoreOptions options) =>
        options.UseSystemTextJsonForSerialization(EnumStorage.AsString, Casing.CamelCase, Configure);

    /// <summary>As <see cref="Configure"/>, for text kept beside Marten's documents.</summary>
    public static JsonSerializerOptions Configured(JsonSerializerOptions options)
    {
        Configure(options);
        return options;
    }

    public static void Configure(JsonSerializerOptions options)
    {
        options.DefaultIgnoreCondition = JsonIgnoreCondition.WhenWritingNull;
        options.IgnoreReadOnlyProperties = true;
        options.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);
    }
}
