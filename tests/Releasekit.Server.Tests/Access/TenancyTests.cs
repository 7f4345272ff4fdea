using System.Net;
using System.Text;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;
using Releasekit.Client;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav;

namespace Releasekit.Server.Tests.Access;

/// <summary>
/// Who gets where (OWASP API1 and API5:2023), for every route the service maps:
/// a new route is in these tests by itself.
/// </summary>
public class TenancyTests(Service service)
{
    [Fact]
    public async Task Every_route_asks_for_a_token_and_for_its_scope()
    {
        foreach (var (method, path, scope) in Routes())
        {
            var others = Enum.GetValues<Scope>().Where(other => other != scope).ToArray();
            var without = await service.NewPublisher(others);

            Assert.Equal(HttpStatusCode.Unauthorized, (await Send(service.ClientWith(null), method, path)).StatusCode);
            var lacking = await Send(without.Http, method, path);
            Assert.Equal(HttpStatusCode.Forbidden, lacking.StatusCode);
            Assert.Contains($"scope=\"{scope.ToString().ToLowerInvariant()}\"",
                Assert.Single(lacking.Headers.WwwAuthenticate).Parameter, StringComparison.Ordinal);
        }
    }

    [Fact]
    public async Task Every_page_asks_for_a_session_and_for_its_scope()
    {
        using var nobody = new HttpClient(new SocketsHttpHandler { AllowAutoRedirect = false })
        {
            BaseAddress = new Uri(service.Address),
        };

        foreach (var (method, path, scope) in AllRoutes().Where(route => !IsData(route.Path)))
        {
            var without = await service.NewPublisher([.. Enum.GetValues<Scope>().Where(other => other != scope)]);

            var astray = await Send(nobody, method, path);
            Assert.Equal(HttpStatusCode.Redirect, astray.StatusCode);
            Assert.StartsWith("/sign-in", astray.Headers.Location!.ToString(), StringComparison.Ordinal);
            Assert.Equal(HttpStatusCode.Forbidden, (await Send(without.Http, method, path)).StatusCode);
        }
    }

    [Fact]
    public async Task Another_publishers_things_are_not_found_by_any_route()
    {
        var owner = await service.NewPublisher();
        var (release, ids) = await GivenOneOfEach(owner.Client);
        var intruder = await service.NewPublisher(Scope.Read, Scope.Write, Scope.Admin);

        foreach (var (method, path, scope) in Routes()
            .Where(route => route.Scope is not Scope.Operator && route.Path.Contains('{')))
        {
            var id = ids.FirstOrDefault(pair => path.StartsWith(pair.Key, StringComparison.Ordinal)).Value;
            var answer = await Send(intruder.Http, method, path, id);

            // A sheet is there for everybody, with one's own things.
            var expected = path.StartsWith("/v1/sheets/", StringComparison.Ordinal)
                ? HttpStatusCode.OK : HttpStatusCode.NotFound;
            Assert.True(answer.StatusCode == expected, $"{method} {path} answered {answer.StatusCode}");
            Assert.DoesNotContain("Private title", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
        }

        foreach (var list in new[] { "releases", "series", "stage-plans", "feeds", "projects" }
            .Concat(["ideas", "notes", "wants", "tasks", "appointments"]))
        {
            Assert.Equal("{\"items\":[],\"next\":null}",
                await intruder.Http.GetStringAsync(new Uri($"/v1/{list}", UriKind.Relative)));
        }

        Assert.Equal(release, await owner.Client.Releases.Get(release.Id).Value() with { Stages = release.Stages });
    }

    [Fact]
    public async Task A_revoked_token_stops_at_once_and_its_feeds_go_on()
    {
        var publisher = await service.NewPublisher();
        var made = await publisher.Client.Tokens.Create(new("device", ["read", "admin"])).Value();
        var device = new ReleasekitClient(service.ClientWith(made.Token));
        var feed = await device.Feeds.Create(new("phone")).Value();
        var used = (await publisher.Client.Tokens.List()).Content!.Items.Single(token => token.Id == made.Id);

        await publisher.Client.Tokens.Revoke(made.Id);

        Assert.NotNull(used.LastUsedAt);
        Assert.Equal(HttpStatusCode.Unauthorized, (await device.Publishers.Get()).StatusCode);
        Assert.Equal(HttpStatusCode.OK, (await service.ClientWith(null).GetAsync(feed.Url)).StatusCode);
    }

    [Fact]
    public async Task A_token_hands_on_no_scope_that_it_lacks()
    {
        var admin = await service.NewPublisher(Scope.Read, Scope.Admin);

        var answer = await admin.Client.Tokens.Create(new("more", ["write"]));

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task An_erased_publisher_is_gone_with_its_tokens()
    {
        var owner = await service.NewPublisher();
        var opened = await owner.Client.Publishers.Open(
            new("Second Tide", $"second-{Guid.NewGuid():N}", "Europe/Lisbon")).Value();
        var second = new ReleasekitClient(service.ClientWith(opened.Token));
        await second.GivenASeries();

        var listed = await IsListed(owner.Client, opened.Id);
        var own = await owner.Client.Publishers.Erase(owner.Id);
        var erased = await owner.Client.Publishers.Erase(opened.Id);

        Assert.True(listed);
        Assert.Equal(HttpStatusCode.Conflict, own.StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, erased.StatusCode);
        Assert.Equal(HttpStatusCode.Unauthorized, (await second.Series.List()).StatusCode);
    }

    /// <summary>The other tests have publishers, too: more than fit on a page.</summary>
    private static async Task<bool> IsListed(ReleasekitClient client, string id)
    {
        for (string? cursor = null; ;)
        {
            var page = await client.Publishers.List(limit: 200, cursor: cursor).Value();
            cursor = page.Next;

            if (cursor is null || page.Items.Any(publisher => publisher.Id == id))
            {
                return page.Items.Any(publisher => publisher.Id == id);
            }
        }
    }

    /// <summary>Private things, by the beginning of the addresses that name them.</summary>
    private static async Task<(Client.Releases.Release Release, Dictionary<string, string> Ids)> GivenOneOfEach(
        ReleasekitClient client)
    {
        await client.GivenASeries("private-series");
        var pause = await client.Series.PlanBreak(
            "private-series", new(new LocalDate(2030, 1, 1), new LocalDate(2030, 1, 9))).Value();
        var release = await client.Releases.Plan(new("private-series", "Private title")).Value();
        var token = await client.Tokens.Create(new("mine", ["read"])).Value();
        var feed = await client.Feeds.Create(new("mine")).Value();
        var project = await client.Projects.Propose(new("Private title")).Value();
        var idea = await client.Ideas.Create(new("Private title")).Value();
        var note = await client.Notes.Create(new("Private title")).Value();
        var want = await client.Wants.Create(new("Private title")).Value();
        var task = await client.Tasks.Create(new("Private title")).Value();
        var appointment = await client.Appointments.Create(new("Private title", new LocalDate(2030, 1, 3))).Value();
        return (release, new Dictionary<string, string>
        {
            ["/v1/releases/{id"] = $"{release.Id}",
            ["/v1/projects/{id"] = $"{project.Id}",
            ["/v1/ideas/{id"] = $"{idea.Id}",
            ["/v1/notes/{id"] = $"{note.Id}",
            ["/v1/wants/{id"] = $"{want.Id}",
            ["/v1/tasks/{id"] = $"{task.Id}",
            ["/v1/appointments/{id"] = $"{appointment.Id}",
            ["/v1/tokens/{id"] = $"{token.Id}",
            ["/v1/feeds/{id"] = $"{feed.Id}",
            ["/v1/series/{series}/breaks/{id"] = $"{pause.Id}",
        });
    }

    private static Task<HttpResponseMessage> Send(HttpClient http, string method, string path, string? id = null)
    {
        var filled = path
            .Replace("{id:guid}", id ?? $"{Guid.CreateVersion7()}", StringComparison.Ordinal)
            .Replace("{series}", "private-series", StringComparison.Ordinal)
            .Replace("{date}", "2030-01-03", StringComparison.Ordinal)
            .Replace("{plan}", "audio", StringComparison.Ordinal)
            .Replace("{year}", "2030", StringComparison.Ordinal)
            .Replace("{month}", "2030-01", StringComparison.Ordinal)
            .Replace("{week}", "2030-W01", StringComparison.Ordinal)
            .Replace("{sequence:long}", "1", StringComparison.Ordinal);
        var request = new HttpRequestMessage(
            new HttpMethod(method), System.Text.RegularExpressions.Regex.Replace(filled, @"\{[^}]+\}", "outline"));
        request.Content = method is "GET" or "DELETE" ? null : new StringContent(BodyFor(path), Encoding.UTF8,
            path.EndsWith("/imports/", StringComparison.Ordinal) ? "text/csv" : "application/json");
        request.Headers.TryAddWithoutValidation("If-Match", "\"any\"");
        return http.SendAsync(request);
    }

    /// <summary>A body that a route can read, so that what is refused is the caller.</summary>
    private static string BodyFor(string path) => path switch
    {
        _ when path.Contains("transitions/{", StringComparison.Ordinal) => """{"at":"2026-01-01T00:00:00Z"}""",
        _ when path.EndsWith("/transitions", StringComparison.Ordinal) => """{"stage":"outline","to":"started"}""",
        _ when path.EndsWith("/start", StringComparison.Ordinal) => """{"goal":"g","finishBy":"2199-01-01"}""",
        _ when path.EndsWith("/steps", StringComparison.Ordinal) => """{"what":"w"}""",
        _ when path.EndsWith("/recurrence", StringComparison.Ordinal) => """{"rrule":"FREQ=DAILY"}""",
        _ when path.EndsWith("/breaks", StringComparison.Ordinal) => """{"from":"2030-01-01","to":"2030-01-02"}""",
        _ when path.EndsWith("/cadence", StringComparison.Ordinal) =>
            """{"rrule":"FREQ=DAILY","time":"07:00","from":"2030-01-01"}""",
        _ when path.Contains("/slots/", StringComparison.Ordinal) => """{"giveUp":true}""",
        _ when path.Contains("/checklist/", StringComparison.Ordinal) => """{"ticked":true}""",
        _ when path.StartsWith("/v1/stage-plans/{", StringComparison.Ordinal) =>
            """{"stages":[{"key":"out","publication":true}]}""",
        _ => "{}",
    };

    private static bool IsData(string path) => path.StartsWith("/v1/", StringComparison.Ordinal);

    private IEnumerable<(string Method, string Path, Scope Scope)> Routes() =>
        AllRoutes().Where(route => IsData(route.Path));

    private IEnumerable<(string Method, string Path, Scope Scope)> AllRoutes() =>
        from endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>()
        let scope = endpoint.Metadata.GetMetadata<NeededScope>()?.Scope
        // CalDAV asks in words of its own, and is looked at on its own.
        where scope is not null && endpoint.Metadata.GetMetadata<TakesBasic>() is null
        from method in endpoint.Metadata.GetRequiredMetadata<HttpMethodMetadata>().HttpMethods
        select (method, endpoint.RoutePattern.RawText!, scope.Value);
}
