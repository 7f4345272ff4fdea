using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using Releasekit.Server.Access;

namespace Releasekit.Server.Docs;

/// <summary>
/// The published contract: OpenAPI 3.1, made from the routes themselves and served at /openapi/v1.json.
/// </summary>
internal static class Contract
{
    public const string Name = "v1";

    public static IServiceCollection AddContract(this IServiceCollection services) =>
        services.AddOpenApi(Name, options =>
    {
        options.OpenApiVersion = OpenApiSpecVersion.OpenApi3_1;
        options.AddSchemaTransformer(ContractSchemas.Describe);
        options.AddOperationTransformer(ContractOperations.Describe);
        options.AddDocumentTransformer(Describe);
    });

    public static void MapContract(this IEndpointRouteBuilder routes) =>
        routes.MapOpenApi("/openapi/{documentName}.json").NeedsNoToken();

    private static Task Describe(
        OpenApiDocument document, OpenApiDocumentTransformerContext context, CancellationToken cancel)
    {
        document.Info = new OpenApiInfo
        {
            Title = "Releasekit",
            Version = "1",
            Description =
                "Keeps what a one-person publisher promised, and what was done about it: series with a cadence, "
                + "releases with their stages, slots that are kept or missed, a calendar that shows what is due.",
            License = new OpenApiLicense { Name = "MIT", Identifier = "MIT" },
        };
        document.Servers = [new OpenApiServer { Url = "/", Description = "This service" }];
        document.Tags = Tags.Select(tag => new OpenApiTag { Name = tag.Key, Description = tag.Value }).ToHashSet();
        document.Components ??= new OpenApiComponents();
        document.Components.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            ["token"] = new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                Description = "A token of the publisher, with the scope that the operation names.",
            },
        };

        return Task.CompletedTask;
    }

    private static readonly Dictionary<string, string> Tags = new()
    {
        ["Releases"] = "Things to publish, their stages, and every transition that was recorded.",
        ["Series"] = "Streams of releases, their cadence, breaks and slots, and how the cadence was kept.",
        ["Learning"] = "How the work of a series flows, and whether the way of working changed.",
        ["Projects"] = "Things bigger than a release: candidates, and what was started with a goal, a date and steps.",
        ["Sheets"] = "A year, a month or a week on one page, as data or to look at and print.",
        ["Planning"] = "Whether the open work fits into the working hours that are left.",
        ["Stage plans"] = "Named, versioned lists of stages; exactly one of them is the publication.",
        ["Ideas"] = "Thoughts for future releases: noted with a text, ranked, promoted.",
        ["Notes"] = "Free text to find again.",
        ["Wants"] = "Things to buy one day.",
        ["Tasks"] = "Things to do on a day, in a week or in a month, once or again and again.",
        ["Appointments"] = "Fixed times in the diary.",
        ["Events"] = "What happened, as it is told to others, reminders included.",
        ["Search"] = "Everything, by its words.",
        ["Imports"] = "A history from a CSV file.",
        ["Feeds"] = "Calendar subscriptions at secret addresses.",
        ["Publishers"] = "The tenant: one person or a small team, with a zone, a working week and days off.",
        ["Tokens"] = "What scripts and devices sign in with.",
        ["Service"] = "Whether the service runs.",
    };

    /// <summary>Examples come from the demo: the invented series Mudflat Weekly.</summary>
    internal static readonly Dictionary<string, JsonNode> Examples = new()
    {
        ["OpenSeriesRequest"] = JsonNode.Parse("""
            {"id":"mudflat-weekly","title":"Mudflat Weekly","stagePlan":"audio-episode",
             "cadence":{"rrule":"FREQ=WEEKLY;BYDAY=TH","start":"2026-12-03","time":"07:00","zone":"Europe/Lisbon"}}
            """)!,
        ["PlanReleaseRequest"] = JsonNode.Parse("""
            {"series":"mudflat-weekly","title":"Eelgrass, counted by hand","slot":"2026-12-10"}
            """)!,
        ["TransitionRequest"] = JsonNode.Parse("""
            {"stage":"rough-cut","to":"completed","at":"2026-12-06T20:50:00Z"}
            """)!,
        ["CreateStagePlanRequest"] = JsonNode.Parse("""
            {"id":"audio-episode","name":"Audio episode","stages":[
              {"key":"outline","name":"Outline","effort":"PT1H30M"},
              {"key":"field-recording","name":"Field recording","effort":"PT3H","checklist":["tide times checked"]},
              {"key":"publish","name":"Publish","publication":true},
              {"key":"announce","name":"Announce","within":"PT12H"}]}
            """)!,
        ["CreateFeedRequest"] = JsonNode.Parse(
            """{"name":"phone","series":["mudflat-weekly"],"stages":"event","privacy":"full"}""")!,
        ["ProposeProjectRequest"] = JsonNode.Parse("""{"title":"Estuary sound atlas","rank":3}""")!,
        ["StartProjectRequest"] = JsonNode.Parse("""
            {"goal":"Forty places of the estuary to be heard on one map","finishBy":"2027-03-31"}
            """)!,
        ["PlanStepRequest"] = JsonNode.Parse("""{"what":"Record the north shore","when":"2026-12-20"}""")!,
        ["CreateTokenRequest"] = JsonNode.Parse("""{"name":"render script","scopes":["read","write"]}""")!,
    };
}
