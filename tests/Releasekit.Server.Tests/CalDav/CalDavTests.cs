using System.Diagnostics;
using System.Net;
using System.Net.Http.Headers;
using System.Text;
using System.Text.Json;
using System.Xml.Linq;
using Releasekit.Client;
using Releasekit.Client.Plans;
using Releasekit.Server.Access;

namespace Releasekit.Server.Tests.CalDav;

/// <summary>CalDAV by a client that is not ours, and request by request.</summary>
public class CalDavTests(Service service)
{
    private const string Python = "/usr/bin/python3";
    private static readonly XNamespace Dav = "DAV:";

    [Fact]
    public async Task A_task_app_ticks_and_unticks_a_stage_and_a_second_sync_moves_nothing()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease("Eelgrass");

        var seen = Run("sync_stages.py", service.Address, publisher.Token, "Outline: Eelgrass");
        var history = await publisher.Client.Releases.History(release.Id).Value();

        Assert.Equal(
            ["Mudflat Weekly", "Projects", "Stages", "Tasks"],
            seen.GetProperty("calendars").EnumerateObject().Select(one => one.Name).Order());
        Assert.Equal(["VTODO"], Texts(seen.GetProperty("calendars").GetProperty("Stages")));
        Assert.Equal(6, seen.GetProperty("count").GetInt32());
        Assert.Equal(["STATUS:NEEDS-ACTION"], Texts(seen.GetProperty("before")));
        Assert.Equal((6, 4), (seen.GetProperty("pending").GetInt32(), seen.GetProperty("inMarch").GetInt32()));
        Assert.Contains("STATUS:COMPLETED", Texts(Assert.Single(seen.GetProperty("ticked").EnumerateArray())));
        Assert.Equal(0, seen.GetProperty("quiet").GetInt32());
        Assert.Equal(
            ["STATUS:NEEDS-ACTION"], Texts(Assert.Single(seen.GetProperty("unticked").EnumerateArray())));
        Assert.Equal(
            ["ReleasePlanned", "SlotAssigned", "StageCompleted", "StageReopened"],
            history.Items.Select(one => one.Event).Where(name => name != "ReleaseRetitled"));
    }

    [Fact]
    public async Task What_may_not_be_ticked_is_answered_quietly_shown_again_and_noticed()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        await publisher.Client.StagePlans.Create(new(
            "strict",
            [
                new PlannedStage("cut"),
                new PlannedStage("publish", Publication: true, After: ["cut"], Strict: ["cut"]),
            ]));
        var release = await publisher.Client.Releases.Plan(
            new(Scenario.Series, "Strict", StagePlan: "strict")).Value();
        using var http = Basic(publisher.Token);
        var address = await AddressOf(http, publisher, $"publish.{release.Id}");
        using var served = await http.GetAsync(address, TestContext.Current.CancellationToken);
        var text = await served.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        using var answer = await Put(
            http, address, text.Replace("STATUS:NEEDS-ACTION", "STATUS:COMPLETED", StringComparison.Ordinal),
            served.Headers.ETag);
        using var again = await http.GetAsync(address, TestContext.Current.CancellationToken);
        var notices = JsonDocument.Parse(await publisher.Http.GetStringAsync(
            new Uri("/v1/calendar-notices", UriKind.Relative), TestContext.Current.CancellationToken));

        Assert.Equal(HttpStatusCode.NoContent, answer.StatusCode);
        Assert.Null(answer.Headers.ETag);
        Assert.NotEqual(served.Headers.ETag, again.Headers.ETag);
        Assert.Equal(text, await again.Content.ReadAsStringAsync(TestContext.Current.CancellationToken));
        var notice = Assert.Single(notices.RootElement.GetProperty("items").EnumerateArray());
        Assert.Equal("/docs/problems/stage.predecessor_open", notice.GetProperty("type").GetString());
    }

    [Fact]
    public async Task A_stale_write_is_told_so_and_what_was_served_may_be_put_back_as_it_is()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        using var http = Basic(publisher.Token);
        var address = await AddressOf(http, publisher, $"outline.{release.Id}");
        using var served = await http.GetAsync(address, TestContext.Current.CancellationToken);
        var text = await served.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        using var stale = await Put(http, address, text, new EntityTagHeaderValue("\"0\""));
        using var same = await Put(http, address, text, served.Headers.ETag);

        Assert.Equal(HttpStatusCode.PreconditionFailed, stale.StatusCode);
        Assert.Equal((HttpStatusCode.NoContent, served.Headers.ETag), (same.StatusCode, same.Headers.ETag));
    }

    [Fact]
    public async Task Anothers_calendars_are_nowhere_and_a_reading_token_may_not_tick()
    {
        var other = await service.NewPublisher();
        await other.Client.GivenASeries();
        var release = await other.Client.GivenARelease();
        using var theirs = Basic(other.Token);
        var address = await AddressOf(theirs, other, $"outline.{release.Id}");
        var publisher = await service.NewPublisher(Scope.Read);
        using var http = Basic(publisher.Token);

        using var get = await http.GetAsync(address, TestContext.Current.CancellationToken);
        using var put = await Put(http, address, "BEGIN:VCALENDAR\nEND:VCALENDAR\n", null);
        var home = await Find(http, $"/dav/calendars/{other.Id}/");
        var multiget = await Report(http, $"/dav/calendars/{publisher.Id}/stages/", $"""
            <C:calendar-multiget xmlns:D="DAV:" xmlns:C="urn:ietf:params:xml:ns:caldav">
              <D:prop><D:getetag/><C:calendar-data/></D:prop><D:href>{address}</D:href></C:calendar-multiget>
            """);
        var own = await Find(http, $"/dav/calendars/{publisher.Id}/stages/");

        Assert.Equal(HttpStatusCode.NotFound, get.StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, put.StatusCode);
        Assert.Null(home);
        Assert.Equal("HTTP/1.1 404 Not Found", Assert.Single(multiget!.Descendants(Dav + "status")).Value);
        Assert.DoesNotContain(own!.Descendants(), element => element.Name == Dav + "write-content");
    }

    [Fact]
    public async Task Without_the_token_a_password_is_asked_for_and_set_up_begins_anywhere()
    {
        using var nobody = service.ClientWith(null);
        using var wellKnown = new HttpRequestMessage(new HttpMethod("PROPFIND"), "/.well-known/caldav");
        using var wrong = Basic("wrong");
        using var handler = new HttpClientHandler { AllowAutoRedirect = false };
        using var still = new HttpClient(handler) { BaseAddress = new Uri(service.Address) };

        using var moved = await still.SendAsync(wellKnown, TestContext.Current.CancellationToken);
        using var root = await nobody.SendAsync(
            new HttpRequestMessage(new HttpMethod("PROPFIND"), "/"), TestContext.Current.CancellationToken);
        using var refused = await wrong.SendAsync(
            new HttpRequestMessage(new HttpMethod("PROPFIND"), "/dav/"), TestContext.Current.CancellationToken);

        Assert.Equal("/dav/", moved.Headers.Location!.OriginalString);
        Assert.All([root, refused], answer => Assert.Equal(
            (HttpStatusCode.Unauthorized, "Basic"),
            (answer.StatusCode, answer.Headers.WwwAuthenticate.Single().Scheme)));
    }

    [Fact]
    public async Task A_token_that_is_none_of_this_calendar_is_refused_by_name()
    {
        var publisher = await service.NewPublisher();
        using var http = Basic(publisher.Token);
        using var request = Reporting($"/dav/calendars/{publisher.Id}/stages/", """
            <D:sync-collection xmlns:D="DAV:"><D:sync-token>urn:releasekit:sync:stages:0:0</D:sync-token>
              <D:sync-level>1</D:sync-level><D:prop><D:getetag/></D:prop></D:sync-collection>
            """);

        using var answer = await http.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.Contains(
            "valid-sync-token", await answer.Content.ReadAsStringAsync(TestContext.Current.CancellationToken),
            StringComparison.Ordinal);
    }

    private HttpClient Basic(string token)
    {
        var http = service.ClientWith(null);
        http.DefaultRequestHeaders.Authorization = new(
            "Basic", Convert.ToBase64String(Encoding.UTF8.GetBytes($"anybody:{token}")));

        return http;
    }

    private static async Task<Uri> AddressOf(HttpClient http, TestPublisher publisher, string begin)
    {
        var listed = await Find(http, $"/dav/calendars/{publisher.Id}/stages/", depth: 1);

        return new Uri(
            listed!.Descendants(Dav + "href").Select(href => href.Value)
                .Single(href => href.Contains($"/{begin}@", StringComparison.Ordinal)),
            UriKind.Relative);
    }

    private static async Task<XElement?> Find(HttpClient http, string path, int depth = 0)
    {
        using var request = new HttpRequestMessage(new HttpMethod("PROPFIND"), path)
        {
            Headers = { { "Depth", $"{depth}" } },
            Content = new StringContent("""
                <D:propfind xmlns:D="DAV:"><D:prop><D:getetag/><D:current-user-privilege-set/></D:prop></D:propfind>
                """, Encoding.UTF8, "application/xml"),
        };
        using var answer = await http.SendAsync(request);

        return answer.StatusCode is HttpStatusCode.MultiStatus
            ? XElement.Parse(await answer.Content.ReadAsStringAsync())
            : null;
    }

    private static HttpRequestMessage Reporting(string path, string body) => new(new HttpMethod("REPORT"), path)
    {
        Content = new StringContent(body, Encoding.UTF8, "application/xml"),
    };

    private static async Task<XElement?> Report(HttpClient http, string path, string body)
    {
        using var request = Reporting(path, body);
        using var answer = await http.SendAsync(request);

        return XElement.Parse(await answer.Content.ReadAsStringAsync());
    }

    private static async Task<HttpResponseMessage> Put(
        HttpClient http, Uri address, string text, EntityTagHeaderValue? tag)
    {
        using var request = new HttpRequestMessage(HttpMethod.Put, address)
        {
            Content = new StringContent(text, Encoding.UTF8, "text/calendar"),
        };

        if (tag is not null)
        {
            request.Headers.IfMatch.Add(tag);
        }

        return await http.SendAsync(request);
    }

    private static string[] Texts(JsonElement list) => [.. list.EnumerateArray().Select(one => one.GetString()!)];

    private static JsonElement Run(string script, params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(
            Python, [Path.Combine(AppContext.BaseDirectory, "CalDav", script), .. arguments])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        var complaint = process.StandardError.ReadToEndAsync();
        var answer = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        Assert.True(process.ExitCode == 0, $"python3-caldav is installed by ops/test; it said: {complaint.Result}");

        return JsonDocument.Parse(answer).RootElement;
    }
}
