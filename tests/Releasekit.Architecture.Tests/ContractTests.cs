using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Routing;
using Releasekit.Domain;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Docs;
using Releasekit.Server.Http;
using Releasekit.Server.Startup;

namespace Releasekit.Architecture.Tests;

/// <summary>
/// What stands in two places stands in both: names of events, codes of refusals, routes and their folders.
/// </summary>
public sealed partial class ContractTests
{
    private const string Server = "src/Releasekit.Server";
    private const string Catalogue = $"{Server}/Http/ProblemCatalog.cs";

    [Fact]
    public void Every_kind_of_event_has_a_stored_name()
    {
        var named = Named().Matches(SourceOf($"{Server}/Store/EventNames.cs"))
            .Select(name => name.Groups["type"].Value);
        var kinds = typeof(Refusal).Assembly.GetTypes()
            .Where(type => type is { IsAbstract: false, BaseType: { IsAbstract: true } kind }
                && kind.Name.EndsWith("Event", StringComparison.Ordinal))
            .Select(type => type.Name);

        Assert.Equal(kinds.Order(StringComparer.Ordinal), named.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_refusal_of_the_domain_is_in_the_catalogue()
    {
        var refusals = RefusalsOfTheDomain();

        Assert.Contains("stage.unknown", refusals);
        Offences.None(refusals.Except(ProblemCatalog.Kinds.Select(kind => kind.Code)));
    }

    [Fact]
    public void Every_problem_of_the_catalogue_is_answered_somewhere()
    {
        var elsewhere = string.Concat(
            Sources.Below("src").Where(source => source.Path != Catalogue).Select(source => source.Text));

        Offences.None(ProblemCatalog.Kinds
            .Select(kind => kind.Code)
            .Where(code => !elsewhere.Contains($"\"{code}\"", StringComparison.Ordinal)));
    }

    [Fact]
    public void Every_route_has_a_name_a_summary_a_description_and_a_scope()
    {
        var routes = Routes();

        Assert.True(routes.Length > 20);
        Offences.None(routes
            .SelectMany(route => new (string What, object? Told)[]
            {
                ("name", route.Metadata.GetMetadata<IEndpointNameMetadata>()?.EndpointName),
                ("summary", route.Metadata.GetMetadata<IEndpointSummaryMetadata>()?.Summary),
                ("description", route.Metadata.GetMetadata<IEndpointDescriptionMetadata>()?.Description),
                ("scope", route.Metadata.GetMetadata<NeededScope>()),
            }
            .Where(member => member.Told is null or "")
            .Select(member => $"{route.DisplayName} has no {member.What}")));
    }

    [Fact]
    public void Every_slice_stands_in_the_table_of_its_folder()
    {
        var slices = Sources.Below(Server).Where(source =>
            source.Text.Contains("static void Map(IEndpointRouteBuilder", StringComparison.Ordinal)).ToArray();

        Assert.True(slices.Length > 20);
        Offences.None(slices
            .Where(slice => !TableOf(slice).Contains($"{slice.Name}.Map(", StringComparison.Ordinal))
            .Select(slice => slice.At(1, $"no …Routes.cs of {slice.Folder} maps it")));
    }

    [Fact]
    public void Every_member_of_every_body_says_what_it_means()
    {
        var members = Members();

        Assert.True(members.Length > 250);
        Offences.None(members
            .Where(member => member.Meaning.Length == 0)
            .Select(member => $"{member.Body}.{member.Name} has no description: add a param to the record's comment"));
    }

    /// <summary>The members of the contract's schemas; a meaning beside "or null" counts.</summary>
    private static (string Body, string Name, string Meaning)[] Members() =>
    [
        .. JsonNode.Parse(File.ReadAllText(Path.Combine(Sources.Root, "openapi/releasekit.json")))!
            ["components"]!["schemas"]!.AsObject()
            .SelectMany(schema => (schema.Value!["properties"]?.AsObject() ?? []).Select(member =>
                (schema.Key, member.Key, ContractWords.DescriptionOf(member.Value)))),
    ];

    private static string TableOf(Source slice) => string.Concat(Sources.All
        .Where(source => source.Folder == slice.Folder && source.Path.EndsWith("Routes.cs", StringComparison.Ordinal))
        .Select(source => source.Text));

    private static HashSet<string> RefusalsOfTheDomain() =>
    [
        .. Sources.Below("src/Releasekit.Domain").SelectMany(source => Code().Matches(source.Text))
            .Select(code => code.Groups["code"].Value),
    ];

    private static string SourceOf(string path) => Sources.All.Single(source => source.Path == path).Text;

    /// <summary>The routes of the contract; pages for people describe themselves.</summary>
    private static RouteEndpoint[] Routes()
    {
        const string nowhere = "Host=nowhere.invalid";
        var settings = new ServiceSettings(
            Path.GetTempPath(), "http://127.0.0.1:0", IsDemo: false, IsRebuild: false,
            nowhere, new ClockOptions(), Flags: []);
        var app = WebService.Build(settings, nowhere);

        return [.. ((IEndpointRouteBuilder)app).DataSources
            .SelectMany(source => source.Endpoints)
            .OfType<RouteEndpoint>()
            .Where(route =>
                route.Metadata.GetMetadata<IExcludeFromDescriptionMetadata>() is not { ExcludeFromDescription: true })];
    }

    [GeneratedRegex(@"MapEventType<(?<type>\w+)>\(""[a-z_]+\.[a-z_]+""\)")]
    private static partial Regex Named();

    [GeneratedRegex(@"""(?<code>[a-z_]+\.[a-z_]+)""")]
    private static partial Regex Code();
}
