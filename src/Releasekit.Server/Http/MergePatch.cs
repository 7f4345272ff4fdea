using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.Http.Metadata;

namespace Releasekit.Server.Http;

/// <summary>
/// A JSON Merge Patch (RFC 7396) for a thing whose changeable members are those of <typeparamref name="TValues"/>.
/// </summary>
internal sealed class MergePatch<TValues> : IEndpointParameterMetadataProvider
    where TValues : class
{
    private readonly JsonObject _patch;

    private MergePatch(JsonObject patch) => _patch = patch;

    public static async ValueTask<MergePatch<TValues>> BindAsync(HttpContext http)
    {
        if (!MediaTypes.IsJson(http.Request.ContentType, "application/merge-patch+json"))
        {
            throw new BadHttpRequestException("not JSON", StatusCodes.Status415UnsupportedMediaType);
        }

        var document = await JsonBody.Read<JsonNode>(http);

        return document is JsonObject patch
            ? new(patch)
            : throw new BadHttpRequestException("A merge patch is a JSON object with the members to change.");
    }

    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder) => builder.Metadata.Add(
        new AcceptsMetadata(["application/merge-patch+json", "application/json"], typeof(TValues)));

    /// <summary>
    /// The values after the patch. Members that are no values of it are refused, null takes the default.
    /// </summary>
    /// <exception cref="JsonException">A member is unknown or of the wrong kind; told as 400.</exception>
    public TValues ApplyTo(TValues current)
    {
        var target = JsonSerializer.SerializeToNode(current, ApiJson.Options)!.AsObject();
        Merge(target, _patch);
        return target.Deserialize<TValues>(ApiJson.Options)!;
    }

    /// <summary>RFC 7396, section 2: null removes, objects merge, everything else replaces.</summary>
    internal static void Merge(JsonObject target, JsonObject patch)
    {
        foreach (var (name, value) in patch)
        {
            if (value is null)
            {
                target.Remove(name);
            }
            else if (value is JsonObject inner)
            {
                var under = target[name] as JsonObject ?? [];
                Merge(under, inner);
                target[name] = under.Parent is null ? under : under.DeepClone();
            }
            else
            {
                target[name] = value.DeepClone();
            }
        }
    }
}
