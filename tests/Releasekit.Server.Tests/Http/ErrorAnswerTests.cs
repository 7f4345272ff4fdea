using System.Net;
using System.Text;
using System.Text.Json;
using Releasekit.Client;

namespace Releasekit.Server.Tests.Http;

/// <summary>
/// Errors are problems (RFC 9457) whose status is the answer's; the shape that scripts rely on stays.
/// </summary>
public class ErrorAnswerTests(Service service)
{
    [Theory]
    [InlineData("GET", "/v1/nothing", null, 404)]
    [InlineData("GET", "/nothing", null, 404)]
    [InlineData("DELETE", "/v1/tokens", null, 405)]
    [InlineData("POST", "/v1/releases", "{\"series\":", 400)]
    [InlineData("POST", "/v1/releases", "{\"series\":\"s\",\"title\":1}", 400)]
    [InlineData("POST", "/v1/releases", "{\"series\":\"s\",\"title\":null}", 400)]
    [InlineData("POST", "/v1/releases", "{\"series\":\"s\",\"title\":\"t\",\"slot\":\"5 March\"}", 400)]
    [InlineData("POST", "/v1/releases", "[]", 400)]
    [InlineData("POST", "/v1/releases", null, 400)]
    public async Task An_error_is_a_problem_of_the_same_status(string method, string path, string? body, int status)
    {
        var publisher = await service.NewPublisher();
        using var request = new HttpRequestMessage(new HttpMethod(method), path)
        {
            Content = body is null ? null : new StringContent(body, Encoding.UTF8, "application/json"),
        };

        var answer = await publisher.Http.SendAsync(request);
        var problem = JsonDocument.Parse(await answer.Content.ReadAsStringAsync()).RootElement;

        Assert.Equal(status, body is null && method == "POST" ? 400 : (int)answer.StatusCode);
        Assert.Equal("application/problem+json", answer.Content.Headers.ContentType?.MediaType);
        Assert.Equal((int)answer.StatusCode, problem.GetProperty("status").GetInt32());
        Assert.StartsWith("/docs/problems/", problem.GetProperty("type").GetString(), StringComparison.Ordinal);
        Assert.False(string.IsNullOrWhiteSpace(problem.GetProperty("detail").GetString()));
        Assert.DoesNotContain("Releasekit.", problem.GetRawText(), StringComparison.Ordinal);
    }

    /// <summary>RFC 9110, 15.5.2 and 15.5.16: who calls is asked before what is sent.</summary>
    [Theory]
    [InlineData("POST", "/v1/releases", "text/csv", "application/json")]
    [InlineData("POST", "/v1/imports?series=s", "application/json", "text/csv")]
    [InlineData("POST", "/v1/imports?series=s", "text/csv; charset=iso-8859-1", "text/csv")]
    [InlineData("PATCH", "/v1/publisher", "text/csv", "application/merge-patch+json or application/json")]
    [InlineData("POST", "/v1/releases", null, "application/json")]
    public async Task A_body_of_another_kind_is_refused_after_who_calls_and_told_what_is_taken(
        string method, string path, string? sent, string taken)
    {
        var publisher = await service.NewPublisher();
        HttpRequestMessage Request()
        {
            var body = new ByteArrayContent("{}"u8.ToArray());
            body.Headers.ContentType = sent is null ? null : System.Net.Http.Headers.MediaTypeHeaderValue.Parse(sent);
            return new(new HttpMethod(method), path) { Content = body };
        }

        var unknown = await service.ClientWith(null).SendAsync(Request());
        var known = await publisher.Http.SendAsync(Request());
        var problem = JsonDocument.Parse(await known.Content.ReadAsStringAsync()).RootElement;

        Assert.Equal(HttpStatusCode.Unauthorized, unknown.StatusCode);
        Assert.Equal(HttpStatusCode.UnsupportedMediaType, known.StatusCode);
        Assert.Equal(
            $"Send the body as {taken} in UTF-8, uncompressed.", problem.GetProperty("detail").GetString());
    }

    [Fact]
    public async Task A_body_beyond_its_bound_is_refused()
    {
        var publisher = await service.NewPublisher();
        using var body = new StringContent(
            $"{{\"series\":\"s\",\"title\":\"{new string('a', 1 << 20)}\"}}", Encoding.UTF8, "application/json");

        var answer = await publisher.Http.PostAsync(new Uri("/v1/releases", UriKind.Relative), body);

        Assert.Equal(HttpStatusCode.RequestEntityTooLarge, answer.StatusCode);
    }

    [Fact]
    public async Task Wrong_tokens_are_slowed_down_and_right_ones_served()
    {
        await using var own = await service.StartAnother();
        var publisher = await own.NewPublisher();
        var statuses = new List<HttpStatusCode>();

        for (var i = 0; i < 45; i++)
        {
            var answer = await own.ClientWith("wrong").GetAsync(new Uri("/v1/publisher", UriKind.Relative));
            statuses.Add(answer.StatusCode);
            Assert.Equal(answer.StatusCode is HttpStatusCode.TooManyRequests, answer.Headers.RetryAfter is not null);
        }

        Assert.Equal(HttpStatusCode.Unauthorized, statuses[0]);
        Assert.Contains(HttpStatusCode.TooManyRequests, statuses);
        Assert.Equal(HttpStatusCode.OK, (await publisher.Client.Publishers.Get()).StatusCode);
        Assert.Equal("pass", (await publisher.Client.Service.Ready().Value()).Status);
    }

    [Fact]
    public async Task Adherence_has_the_members_that_scripts_rely_on()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();

        var text = await publisher.Http.GetStringAsync(
            new Uri($"/v1/series/{Scenario.Series}/cadence", UriKind.Relative));
        var members = JsonDocument.Parse(text).RootElement.EnumerateObject()
            .ToDictionary(member => member.Name, member => member.Value);

        Assert.Equal(
            ["from", "to", "at", "slots", "due", "onTime", "late", "pending", "overdue", "missed", "excused", "future",
                "extra",
                "onTimeRate", "latenessHours", "currentStreak", "longestStreak", "gaps", "drift"],
            members.Keys);
        Assert.Superset(new HashSet<string> { "value", "low", "high", "n" }, Names(members["onTimeRate"]));
        Assert.Superset(
            new HashSet<string> { "n", "p50", "p85", "p95", "min", "max" }, Names(members["latenessHours"]));
        Assert.Superset(new HashSet<string> { "n", "meanDays", "sdDays", "cv", "madDays" }, Names(members["gaps"]));
        Assert.Superset(new HashSet<string> { "hoursPerSlot", "n" }, Names(members["drift"]));

        static HashSet<string> Names(JsonElement figure) =>
            figure.EnumerateObject().Select(member => member.Name).ToHashSet();
    }
}
