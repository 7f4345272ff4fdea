using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Docs;

/// <summary>
/// What every operation can answer and takes besides its own: problems, ETags, preconditions, keys, the token.
/// </summary>
internal static class ContractOperations
{
    private static readonly Dictionary<int, string> Reasons = new()
    {
        [400] = "It cannot be read.",
        [401] = "A token is needed, or it is unknown.",
        [403] = "The token lacks the scope.",
        [404] = "Nothing of yours is there.",
        [409] = "The state forbids it.",
        [412] = "It was changed meanwhile.",
        [413] = "The body is too large.",
        [415] = "The body is of another kind.",
        [422] = "The values are not acceptable.",
        [428] = "If-Match is needed.",
        [429] = "Too many wrong tokens from this address.",
        [503] = "The database does not answer.",
    };

    public static async Task Describe(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken cancel)
    {
        var metadata = context.Description.ActionDescriptor.EndpointMetadata;
        var own = metadata.OfType<AnswersOfRoute>().LastOrDefault() ?? new(StatusCodes.Status200OK, []);
        var scope = metadata.OfType<NeededScope>().LastOrDefault()?.Scope;
        var method = context.Description.HttpMethod!;
        var body = metadata.OfType<BodyOfAnswer>().LastOrDefault()?.Body;

        DescribeGoodAnswer(operation, own.Good, body, method);
        await DescribeProblems(operation, context, StatusesOf(own, scope, method), cancel);
        DescribeHeaders(operation, own, method);
        ContractParameters.Describe(operation);

        if (scope is { } needed)
        {
            operation.Description =
                $"{operation.Description?.TrimEnd()}\n\n"
                + $"Needs a token with the scope `{needed.ToString().ToLowerInvariant()}`.";
            operation.Security =
                [new() { [new OpenApiSecuritySchemeReference("token", context.Document)] = [] }];
        }
        else
        {
            operation.Security = [];
        }
    }

    private static IEnumerable<int> StatusesOf(AnswersOfRoute own, Access.Scope? scope, string method)
    {
        int[] secured = scope is null ? [] : [401, 403, 429];
        int[] withBody = method is "POST" or "PUT" or "PATCH" ? [413, 415] : [];
        int[] keyed = method is "POST" ? [409, 422] : [];

        return own.Refusals.Concat([400, 503]).Concat(secured).Concat(withBody).Concat(keyed).Distinct().Order();
    }

    private static void DescribeGoodAnswer(OpenApiOperation operation, int good, Type? body, string method)
    {
        operation.Responses ??= [];
        var answer = operation.Responses.TryGetValue("200", out var found) && found is OpenApiResponse response
            ? response
            : new OpenApiResponse();
        operation.Responses.Remove("200");
        operation.Responses[good.ToString(System.Globalization.CultureInfo.InvariantCulture)] = answer;
        answer.Description = good switch
        {
            201 => "Made; Location says where it is.",
            202 => "Taken in; Location says where its progress is.",
            204 => "Done.",
            _ => "Done, or as asked.",
        };
        answer.Headers = new Dictionary<string, IOpenApiHeader>();

        if (good is 201 or 202)
        {
            answer.Headers["Location"] = Header("Where it is.");
        }

        if (good is 204)
        {
            answer.Content = null;
        }

        if (body is not null && typeof(ITagged).IsAssignableFrom(body))
        {
            answer.Headers["ETag"] = Header("Strong; another one with any change of what GET shows.");

            if (method is "GET")
            {
                operation.Responses["304"] = new OpenApiResponse { Description = "You have this version already." };
                operation.AddHeader(
                    "If-None-Match", "ETags you have; one of them still being current is answered with 304.");
            }
        }
    }

    private static async Task DescribeProblems(
        OpenApiOperation operation, OpenApiOperationTransformerContext context, IEnumerable<int> statuses,
        CancellationToken cancel)
    {
        var schema = await context.GetOrCreateSchemaAsync(typeof(Problem), cancellationToken: cancel);
        context.Document!.AddComponent("Problem", schema);

        foreach (var status in statuses)
        {
            operation.Responses![status.ToString(System.Globalization.CultureInfo.InvariantCulture)] =
                new OpenApiResponse { Description = Reasons[status], Content = AsProblem(context.Document) };
        }
    }

    private static Dictionary<string, OpenApiMediaType> AsProblem(OpenApiDocument document) => new()
    {
        [Problem.MediaType] = new() { Schema = new OpenApiSchemaReference("Problem", document) },
    };

    private static void DescribeHeaders(OpenApiOperation operation, AnswersOfRoute own, string method)
    {
        if (method is "POST")
        {
            operation.AddHeader(
                "Idempotency-Key",
                "Repeating the request with the same key within a day gives the first answer and does nothing twice.");
        }

        if (own.Refusals.Contains(StatusCodes.Status412PreconditionFailed))
        {
            operation.AddHeader("If-Match", own.Refusals.Contains(StatusCodes.Status428PreconditionRequired)
                ? "The ETag of what you read; needed."
                : "The ETag of what you read; honoured, not needed.");
        }
    }

    private static void AddHeader(this OpenApiOperation operation, string name, string description)
    {
        operation.Parameters ??= [];
        operation.Parameters.Add(new OpenApiParameter
        {
            Name = name,
            In = ParameterLocation.Header,
            Description = description,
            Schema = new OpenApiSchema { Type = JsonSchemaType.String, MaxLength = 300 },
        });
    }

    private static OpenApiHeader Header(string description) => new()
    {
        Description = description,
        Schema = new OpenApiSchema { Type = JsonSchemaType.String, MaxLength = 2_000 },
    };
}
