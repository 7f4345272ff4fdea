using System.Net;
using System.Net.Http.Headers;
using System.Net.Http.Json;
using System.Text.Json.Nodes;
using Releasekit.Client;
using Releasekit.Server.Http;

namespace Releasekit.Server.Tests.Http;

/// <summary>
/// ETags and preconditions: RFC 9110, 13.1 and 13.2; RFC 6585, 3; merge patches: RFC 7396 (vectors from memory).
/// </summary>
public class ConditionalRequestTests(Service service)
{
    [Theory]
    [InlineData(null, HttpStatusCode.PreconditionRequired)]
    [InlineData("\"stale\"", HttpStatusCode.PreconditionFailed)]
    [InlineData("W/{tag}", HttpStatusCode.PreconditionFailed)]
    [InlineData("\"stale\", {tag}", HttpStatusCode.OK)]
    [InlineData("*", HttpStatusCode.OK)]
    public async Task A_change_names_the_version_it_was_made_for(string? ifMatch, HttpStatusCode status)
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        var tag = (await publisher.Client.Releases.Get(release.Id)).ETag()!;
        using var request = new HttpRequestMessage(HttpMethod.Patch, $"/v1/releases/{release.Id}")
        {
            Content = JsonContent.Create(
                new { title = "No. 12, again" }, new MediaTypeHeaderValue("application/merge-patch+json")),
        };
        if (ifMatch is not null)
        {
            request.Headers.TryAddWithoutValidation(
                "If-Match", ifMatch.Replace("{tag}", tag, StringComparison.Ordinal));
        }

        var answer = await publisher.Http.SendAsync(request);

        Assert.Equal(status, answer.StatusCode);
        Assert.Equal(status == HttpStatusCode.OK, (await publisher.Client.Releases.Get(release.Id)).ETag() != tag);
    }

    [Fact]
    public async Task A_version_one_has_is_not_sent_again()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        var first = await publisher.Client.Releases.Get(release.Id);

        var unchanged = await publisher.Client.Releases.Get(release.Id, ifNoneMatch: $"\"other\", {first.ETag()}");
        await publisher.Client.Record(release, "outline", Client.Releases.StageState.Started);
        var changed = await publisher.Client.Releases.Get(release.Id, ifNoneMatch: first.ETag());

        Assert.Equal(HttpStatusCode.NotModified, unchanged.StatusCode);
        Assert.Equal(HttpStatusCode.OK, changed.StatusCode);
    }

    [Fact]
    public async Task What_is_not_there_is_not_there_whatever_the_condition()
    {
        var publisher = await service.NewPublisher();

        var answer = await publisher.Client.Releases.Change(
            Guid.CreateVersion7(), new() { ["title"] = "x" }, "\"any\"");

        Assert.Equal(HttpStatusCode.NotFound, answer.StatusCode);
    }

    [Theory]
    [InlineData("""{"a":"b"}""", """{"a":null}""", "{}")]
    [InlineData("""{"a":{"b":"c"}}""", """{"a":{"b":"d","c":null}}""", """{"a":{"b":"d"}}""")]
    [InlineData("""{"a":[{"b":"c"}]}""", """{"a":[1]}""", """{"a":[1]}""")]
    [InlineData("""{"e":null}""", """{"a":1}""", """{"e":null,"a":1}""")]
    [InlineData("{}", """{"a":{"bb":{"ccc":null}}}""", """{"a":{"bb":{}}}""")]
    [InlineData("""{"a":"c"}""", """{"a":{"b":"d"}}""", """{"a":{"b":"d"}}""")]
    public void A_merge_patch_does_what_the_standard_says(string target, string patch, string expected)
    {
        var merged = JsonNode.Parse(target)!.AsObject();

        MergePatch<object>.Merge(merged, JsonNode.Parse(patch)!.AsObject());

        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(expected), merged), merged.ToJsonString());
    }

    [Fact]
    public async Task A_patch_with_a_member_that_does_not_exist_changes_nothing()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.GivenARelease();
        var tag = (await publisher.Client.Releases.Get(release.Id)).ETag()!;

        var problem = await publisher.Client.Releases
            .Change(release.Id, new() { ["title"] = "new", ["tilte"] = "typo" }, tag).Problem();
        var freed = await publisher.Client.Releases.Change(release.Id, new() { ["slot"] = null }, tag).Value();

        Assert.Equal((400, "/tilte"), (problem.Status, Assert.Single(problem.Errors!).Place));
        Assert.Equal(("No. 12", null), (freed.Title, freed.Slot));
    }
}
