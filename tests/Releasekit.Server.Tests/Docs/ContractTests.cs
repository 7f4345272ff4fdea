using System.Net;
using System.Text.Json.Nodes;
using Releasekit.Server.Docs;
using Releasekit.Server.Http;

namespace Releasekit.Server.Tests.Docs;

/// <summary>
/// The published contract is what is served, says what our rules ask for, and every problem has its page.
/// </summary>
public class ContractTests(Service service)
{
    private static readonly string[] Methods = ["get", "post", "put", "patch", "delete"];

    [Fact]
    public async Task The_published_contract_is_what_is_served()
    {
        var served = ContractFile.Spelled(
            await service.ClientWith(null).GetStringAsync(new Uri("/openapi/v1.json", UriKind.Relative)));
        var published = await File.ReadAllTextAsync(Path.Combine(Root(), "openapi", "releasekit.json"));

        // A build writes it anew; look at the difference, and commit it when it is meant.
        Assert.Equal(published.Split('\n'), served.Split('\n'));
    }

    [Fact]
    public async Task Every_operation_says_what_our_rules_ask_for()
    {
        var contract = JsonNode.Parse(
            await service.ClientWith(null).GetStringAsync(new Uri("/openapi/v1.json", UriKind.Relative)))!;
        var operations = (
            from path in contract["paths"]!.AsObject()
            from method in Methods
            where path.Value![method] is not null
            select (Name: $"{method} {path.Key}", Method: method, Operation: path.Value[method]!)).ToArray();

        Assert.StartsWith("3.1", contract["openapi"]!.ToString(), StringComparison.Ordinal);
        Assert.Equal(
            operations.Length, operations.Select(one => one.Operation["operationId"]!.ToString()).Distinct().Count());
        Assert.All(operations, one =>
        {
            Assert.False(string.IsNullOrWhiteSpace(one.Operation["summary"]?.ToString()), one.Name);
            Assert.False(string.IsNullOrWhiteSpace(one.Operation["description"]?.ToString()), one.Name);
            Assert.All(
                one.Operation["responses"]!.AsObject().Where(answer => answer.Key[0] is '4' or '5'),
                answer => Assert.NotNull(answer.Value!["content"]?["application/problem+json"]));
            Assert.True(one.Operation["security"]!.AsArray().Count == 0
                || one.Operation["responses"]!["429"] is not null, one.Name);
            Assert.True(one.Method != "post" || one.Operation["parameters"]!.AsArray()
                .Any(p => p!["name"]!.ToString() == "Idempotency-Key"), one.Name);
        });
    }

    [Fact]
    public async Task Every_kind_of_problem_has_its_page()
    {
        foreach (var kind in ProblemCatalog.Kinds)
        {
            var page = await service.ClientWith(null)
                .GetAsync(new Uri($"/docs/problems/{kind.Code}", UriKind.Relative));

            Assert.Equal(HttpStatusCode.OK, page.StatusCode);
            Assert.Equal("text/html", page.Content.Headers.ContentType?.MediaType);
        }
    }

    [Theory]
    [InlineData("/docs")]
    [InlineData("/docs/problems")]
    public async Task A_page_allows_nothing_from_elsewhere_and_asks_for_nothing(string path)
    {
        var page = await service.ClientWith(null).GetAsync(new Uri(path, UriKind.Relative));
        var text = await page.Content.ReadAsStringAsync();

        Assert.Contains("default-src 'none'", Assert.Single(page.Headers.GetValues("Content-Security-Policy")),
            StringComparison.Ordinal);
        Assert.Equal("nosniff", Assert.Single(page.Headers.GetValues("X-Content-Type-Options")));
        Assert.DoesNotContain("<script", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("src=", text, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("style=", text, StringComparison.OrdinalIgnoreCase);
    }

    private static string Root()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);

        while (!File.Exists(Path.Combine(folder.FullName, "Releasekit.sln")))
        {
            folder = folder.Parent!;
        }

        return folder.FullName;
    }
}
