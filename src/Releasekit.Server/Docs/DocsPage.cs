using System.Text.Json.Nodes;

namespace Releasekit.Server.Docs;

/// <summary>
/// Lays the contract out for reading: first steps, then area by area every route with what it takes and answers.
/// </summary>
internal static class DocsPage
{
    private static readonly string[] Methods = ["get", "post", "put", "patch", "delete"];

    public static Page Of(JsonNode contract, string address)
    {
        var page = new Page("Releasekit");
        page.Add("h1", "Releasekit").Add("p", Text(contract["info"]?["description"]), "class=\"lead\"");
        FirstSteps(page, address);

        var routes = Routes(contract).ToLookup(route => Text(route.Operation["tags"]?[0]));
        var tags = contract["tags"]!.AsArray().Select(
            tag => (Name: Text(tag!["name"]), Description: Text(tag["description"]))).ToArray();

        page.Open("nav");

        foreach (var (name, _) in tags)
        {
            page.Link($"#{Anchor(name)}", name).Text(" ");
        }

        page.Link("/docs/statistics", "Statistics").Text(" ").Link("/docs/problems", "Problems").Text(" ")
            .Link("/openapi/v1.json", "OpenAPI").Close("nav");

        foreach (var (name, description) in tags)
        {
            page.Add("h2", name, $"id=\"{Anchor(name)}\"").Add("p", description);

            foreach (var route in routes[name])
            {
                Route(page, contract, route);
            }
        }

        return page;
    }

    private static void FirstSteps(Page page, string address)
    {
        page.Add("h2", "First steps");
        page.Add(
            "p",
            "The token lies in the data folder, in the file `owner-token`. These requests work on the demo "
            + "(`ops/run --demo`); any tool that speaks HTTP will do.");
        page.Add("pre", $$"""
            curl -H "Authorization: Bearer $TOKEN" {{address}}/v1/releases?state=finished
            curl -H "Authorization: Bearer $TOKEN" {{address}}/v1/series/mudflat-weekly/slots
            curl -H "Authorization: Bearer $TOKEN" {{address}}/v1/series/mudflat-weekly/cadence
            curl -H "Authorization: Bearer $TOKEN" -H "Content-Type: application/json" \
              -d '{"stage":"field-recording","to":"completed"}' {{address}}/v1/releases/$ID/transitions
            curl -H "Authorization: Bearer $TOKEN" -H "Content-Type: application/json" \
              -d '{"name":"phone"}' {{address}}/v1/feeds
            """);
    }

    private static void Route(Page page, JsonNode contract, ContractRoute route)
    {
        var operation = route.Operation;

        page.Open("section").Open("h3");
        page.Add("span", route.Method.ToUpperInvariant(), "class=\"method\"").Add("code", route.Path).Close("h3");
        page.Add("p", Text(operation["summary"]), "class=\"summary\"");

        foreach (var paragraph in Text(operation["description"]).Split("\n\n", StringSplitOptions.RemoveEmptyEntries))
        {
            page.Add("p", paragraph);
        }

        Parameters(page, operation);
        Body(page, contract, operation["requestBody"]?["content"]?.AsObject(), "Takes");
        Body(page, contract, GoodAnswer(operation)?["content"]?.AsObject(), "Answers");
        page.Add(
            "p", "Statuses: " + string.Join(
                ", ", operation["responses"]!.AsObject().Select(answer => answer.Key)), "class=\"fine\"");
        page.Close("section");
    }

    private static void Parameters(Page page, JsonNode operation)
    {
        if (operation["parameters"]?.AsArray() is not { Count: > 0 } parameters)
        {
            return;
        }

        page.Open("table");

        foreach (var parameter in parameters)
        {
            page.Open("tr").Open("td").Add("code", Text(parameter!["name"])).Close("td")
                .Add("td", Text(parameter["in"])).Add("td", Text(parameter["description"])).Close("tr");
        }

        page.Close("table");
    }

    private static void Body(Page page, JsonNode contract, JsonObject? content, string verb)
    {
        if (content is not { Count: > 0 })
        {
            return;
        }

        page.Open("details").Open("summary").Text(
            $"{verb} {string.Join(" or ", content.Select(kind => kind.Key))}").Close("summary");
        Members(page, contract, content.First().Value?["schema"], depth: 0);
        page.Close("details");
    }

    private static void Members(Page page, JsonNode contract, JsonNode? schema, int depth)
    {
        const int deepest = 3;
        var known = Resolved(contract, schema);

        if (known?["properties"]?.AsObject() is not { } members || depth > deepest)
        {
            return;
        }

        page.Open("ul");

        foreach (var (name, member) in members)
        {
            var inner = Resolved(contract, member?["items"] ?? member);
            page.Open("li").Add("code", name).Text(
                $" {ContractWords.KindOf(contract, member)}. {ContractWords.DescriptionOf(member)}");
            Members(page, contract, inner, depth + 1);
            page.Close("li");
        }

        page.Close("ul");
    }

    /// <summary>
    /// What a schema says, wherever it says it: in place, by reference, or as the part that is not null.
    /// </summary>
    internal static JsonNode? Resolved(JsonNode contract, JsonNode? schema)
    {
        var part = schema?["oneOf"]?.AsArray().FirstOrDefault(one => one?["type"]?.ToString() != "null") ?? schema;
        var name = part?["$ref"]?.ToString().Split('/')[^1];

        return name is null ? part : contract["components"]?["schemas"]?[name];
    }

    private static JsonNode? GoodAnswer(JsonNode operation) => operation["responses"]!.AsObject()
        .FirstOrDefault(answer => answer.Key.StartsWith('2')).Value;

    private static IEnumerable<ContractRoute> Routes(JsonNode contract) =>
        from path in contract["paths"]!.AsObject()
        from method in Methods
        where path.Value![method] is not null
        select new ContractRoute(method, path.Key, path.Value[method]!);

    private static string Anchor(string tag) => Domain.Wording.KeyOf(tag);

    private static string Text(JsonNode? node) => node?.ToString() ?? string.Empty;

    private sealed record ContractRoute(string Method, string Path, JsonNode Operation);
}
