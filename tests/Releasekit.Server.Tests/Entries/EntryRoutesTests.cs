using System.Net;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Access;

namespace Releasekit.Server.Tests.Entries;

/// <summary>What every kind of entry can do, asked over plain HTTP so that one test serves all.</summary>
public sealed class EntryRoutesTests(Service service)
{
    /// <summary>A kind, what it is made of, and one member to change.</summary>
    public static readonly TheoryData<string, string, string, string> Kinds = new()
    {
        { "ideas", """{"text":"Eelgrass by night","tags":["Night","eelgrass"]}""", "text", "Eelgrass at dawn" },
        { "notes", """{"text":"# Wind\nFur on the jetty.","tags":["night"]}""", "title", "Wind shields" },
        { "wants", """{"title":"Hydrophone","price":{"amount":189.50,"currency":"EUR"},"tags":["night"]}""",
            "category", "recording" },
        { "tasks", """{"title":"Oil the hinges","when":"2026-W10","tags":["night"]}""", "when", "2026-03" },
        { "appointments", """{"title":"Low water","date":"2026-03-05","time":"05:30","tags":["night"]}""",
            "place", "at the weir" },
    };

    /// <summary>The same without the change.</summary>
    public static TheoryData<string, string> Bodies
    {
        get
        {
            var bodies = new TheoryData<string, string>();

            foreach (var row in Kinds)
            {
                bodies.Add(row.Data.Item1, row.Data.Item2);
            }

            return bodies;
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task It_is_made_read_changed_removed_and_restored(
        string kind, string body, string member, string value)
    {
        var http = (await service.NewPublisher()).Http;

        var made = await Send(http, HttpMethod.Post, $"/v1/{kind}", body);
        var address = made.Headers.Location!.ToString();
        var read = await http.GetAsync(address);
        Assert.Equal((HttpStatusCode.Created, made.Headers.ETag), (made.StatusCode, read.Headers.ETag));

        var changed = await Send(http, HttpMethod.Patch, address, $$"""{"{{member}}":"{{value}}"}""", TagOf(read));
        Assert.Equal(value, (string?)(await Json(changed))[member]);
        Assert.Equal(HttpStatusCode.PreconditionFailed,
            (await Send(http, HttpMethod.Patch, address, $$"""{"{{member}}":null}""", TagOf(read))).StatusCode);

        var tag = TagOf(changed);
        Assert.Equal(HttpStatusCode.PreconditionRequired, (await http.DeleteAsync(address)).StatusCode);
        Assert.Equal(HttpStatusCode.NoContent, (await Send(http, HttpMethod.Delete, address, null, tag)).StatusCode);
        var gone = await http.GetAsync(address);
        Assert.Equal(HttpStatusCode.NotFound, gone.StatusCode);
        Assert.Contains($"POST {address}/restore", (string?)(await Json(gone))["detail"]);
        Assert.Empty((await List(http, $"/v1/{kind}")).AsArray());
        Assert.Single((await List(http, $"/v1/{kind}?removed=true")).AsArray());

        var restored = await Send(http, HttpMethod.Post, $"{address}/restore", null);
        var again = await Send(http, HttpMethod.Post, $"{address}/restore", null);
        Assert.Equal((HttpStatusCode.OK, TagOf(restored)), (again.StatusCode, TagOf(again)));
        Assert.Equal(value, (string?)(await Json(restored))[member]);
        Assert.Single((await List(http, $"/v1/{kind}?tag=NIGHT")).AsArray());
        Assert.Empty((await List(http, $"/v1/{kind}?tag=day")).AsArray());
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task It_is_the_publishers_own(string kind, string body, string member, string value)
    {
        var owner = (await service.NewPublisher()).Http;
        var other = (await service.NewPublisher()).Http;
        var reader = (await service.NewPublisher(Scope.Read)).Http;
        var address = (await Send(owner, HttpMethod.Post, $"/v1/{kind}", body)).Headers.Location!.ToString();
        var tag = TagOf(await owner.GetAsync(address));
        var patch = $$"""{"{{member}}":"{{value}}"}""";

        HttpResponseMessage[] refused =
        [
            await other.GetAsync(address),
            await Send(other, HttpMethod.Patch, address, patch, tag),
            await Send(other, HttpMethod.Delete, address, null, tag),
            await Send(other, HttpMethod.Post, $"{address}/restore", null),
        ];

        Assert.All(refused, answer => Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode));
        Assert.Empty((await List(other, $"/v1/{kind}")).AsArray());
        Assert.Equal(HttpStatusCode.Forbidden, (await Send(reader, HttpMethod.Post, $"/v1/{kind}", body)).StatusCode);
        Assert.Equal(tag, TagOf(await owner.GetAsync(address)));
    }

    [Theory]
    [MemberData(nameof(Bodies))]
    public async Task Bad_input_is_named_and_nothing_is_kept(string kind, string body)
    {
        var http = (await service.NewPublisher()).Http;
        var values = JsonNode.Parse(body)!.AsObject();
        var needed = values.First().Key;

        var unknown = await Send(http, HttpMethod.Post, $"/v1/{kind}", """{"colour":"blue"}""");
        values[needed] = "  ";
        values["notedAt"] = "2199-01-01T00:00:00Z";
        values["tags"] = new JsonArray("a,b");
        var blank = await Send(http, HttpMethod.Post, $"/v1/{kind}", values.ToJsonString());

        Assert.Equal(HttpStatusCode.BadRequest, unknown.StatusCode);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, blank.StatusCode);
        Assert.Equal(
            ["/notedAt", "/tags", $"/{needed}"],
            (await Json(blank))["errors"]!.AsArray().Select(error => (string?)error!["pointer"]).Order());
        Assert.Empty((await List(http, $"/v1/{kind}")).AsArray());
    }

    [Theory]
    [MemberData(nameof(Bodies))]
    public async Task The_same_key_makes_it_once_and_pages_agree_with_the_whole(string kind, string body)
    {
        var http = (await service.NewPublisher()).Http;
        var first = await Send(http, HttpMethod.Post, $"/v1/{kind}", body, key: "once");
        var second = await Send(http, HttpMethod.Post, $"/v1/{kind}", body, key: "once");
        Assert.Equal(first.Headers.Location, second.Headers.Location);

        for (var i = 0; i < 4; i++)
        {
            await Send(http, HttpMethod.Post, $"/v1/{kind}", body);
        }

        var whole = (await List(http, $"/v1/{kind}")).AsArray().Select(item => (string)item!["id"]!).ToArray();
        var paged = new List<string>();

        for (var next = (string?)string.Empty; next is not null;)
        {
            var page = await Json(await http.GetAsync($"/v1/{kind}?limit=2{(next == "" ? "" : $"&cursor={next}")}"));
            paged.AddRange(page["items"]!.AsArray().Select(item => (string)item!["id"]!));
            next = (string?)page["next"];
        }

        Assert.Equal(5, whole.Length);
        Assert.Equal(whole, paged);
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task Of_two_changes_at_once_one_is_told_so(string kind, string body, string member, string value)
    {
        var http = (await service.NewPublisher()).Http;
        var address = (await Send(http, HttpMethod.Post, $"/v1/{kind}", body)).Headers.Location!.ToString();
        var tag = TagOf(await http.GetAsync(address));

        var answers = await Task.WhenAll(Enumerable.Range(0, 8).Select(i => Send(
            http, HttpMethod.Patch, address, $$"""{"{{member}}":"{{value}}","tags":["t{{i}}"]}""", tag)));

        Assert.Single(answers, answer => answer.StatusCode == HttpStatusCode.OK);
        Assert.All(
            answers.Where(answer => answer.StatusCode != HttpStatusCode.OK),
            answer => Assert.Equal(HttpStatusCode.PreconditionFailed, answer.StatusCode));
    }

    [Theory]
    [MemberData(nameof(Bodies))]
    public async Task What_was_removed_a_month_ago_is_gone(string kind, string body)
    {
        await using var own = await service.StartAnother();
        own.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        var http = (await own.NewPublisher()).Http;
        var address = (await Send(http, HttpMethod.Post, $"/v1/{kind}", body)).Headers.Location!.ToString();
        await Send(http, HttpMethod.Delete, address, null, TagOf(await http.GetAsync(address)));

        own.Clock.StandAt(Instant.FromUtc(2026, 4, 1, 9, 1));
        await own.Upkeep();

        Assert.Equal(
            HttpStatusCode.NotFound, (await Send(http, HttpMethod.Post, $"{address}/restore", null)).StatusCode);
        Assert.Empty((await List(http, $"/v1/{kind}?removed=true")).AsArray());
    }

    private static string TagOf(HttpResponseMessage answer) => answer.Headers.ETag!.Tag;

    private static async Task<JsonNode> Json(HttpResponseMessage answer) =>
        (await answer.Content.ReadFromJsonAsync<JsonNode>())!;

    private static async Task<JsonNode> List(HttpClient http, string address)
    {
        var answer = await http.GetAsync(address);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        return (await Json(answer))["items"]!;
    }

    private static async Task<HttpResponseMessage> Send(
        HttpClient http, HttpMethod method, string address, string? body, string? tag = null, string? key = null)
    {
        var request = new HttpRequestMessage(method, address)
        {
            Content = body is null ? null : new StringContent(body, null, "application/json"),
        };

        if (tag is not null)
        {
            request.Headers.TryAddWithoutValidation("If-Match", tag);
        }

        if (key is not null)
        {
            request.Headers.TryAddWithoutValidation("Idempotency-Key", key);
        }

        return await http.SendAsync(request);
    }
}
