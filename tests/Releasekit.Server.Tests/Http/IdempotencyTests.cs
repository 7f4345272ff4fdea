using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Publishers;

namespace Releasekit.Server.Tests.Http;

/// <summary>Idempotency keys: the IETF draft idempotency-key-header; keys belong to a token.</summary>
public class IdempotencyTests(Service service)
{
    [Fact]
    public async Task The_same_request_again_gets_the_first_answer_and_does_nothing()
    {
        var publisher = await Given();

        var first = await publisher.Client.Releases.Plan(new(Scenario.Series, "Once"), "\"key-1\"");
        var again = await publisher.Client.Releases.Plan(new(Scenario.Series, "Once"), "key-1");
        var other = await publisher.Client.Releases.Plan(new(Scenario.Series, "Another"), "key-1");

        Assert.Equal(HttpStatusCode.Created, again.StatusCode);
        Assert.Equal((first.Content!.Id, first.ETag(), first.Headers!.Location),
            (again.Content!.Id, again.ETag(), again.Headers!.Location));
        Assert.Equal(HttpStatusCode.UnprocessableEntity, other.StatusCode);
        Assert.Single((await publisher.Client.Releases.List()).Content!.Items);
    }

    [Fact]
    public async Task Twenty_at_once_make_one()
    {
        var publisher = await Given();

        var answers = await Task.WhenAll(Enumerable.Range(0, 20).Select(_ =>
            publisher.Client.Releases.Plan(new(Scenario.Series, "Once"), "key-2")));

        Assert.All(
            answers, answer => Assert.True(answer.StatusCode is HttpStatusCode.Created or HttpStatusCode.Conflict));
        Assert.Single((await publisher.Client.Releases.List()).Content!.Items);
    }

    [Fact]
    public async Task Two_tokens_may_use_the_same_key_and_a_refusal_is_kept_too()
    {
        var publisher = await Given();
        var second = await publisher.Client.Tokens.Create(new("second", ["read", "write"])).Value();
        var other = new ReleasekitClient(service.ClientWith(second.Token));

        var first = await publisher.Client.Releases.Plan(new(Scenario.Series, "One"), "key-3").Value();
        var another = await other.Releases.Plan(new(Scenario.Series, "Two"), "key-3").Value();
        var refused = await publisher.Client.Releases.Plan(new("nothing", "x"), "key-4").Problem();
        var refusedAgain = await publisher.Client.Releases.Plan(new("nothing", "x"), "key-4").Problem();

        Assert.NotEqual(first.Id, another.Id);
        Assert.Equal(refused with { Errors = null }, refusedAgain with { Errors = null });
    }

    [Fact]
    public async Task A_secret_that_was_answered_is_nowhere_in_the_database()
    {
        var publisher = await Given();

        var first = await publisher.Client.Tokens.Create(new CreateToken("script", ["read"]), "key-5").Value();
        var again = await publisher.Client.Tokens.Create(new CreateToken("script", ["read"]), "key-5").Value();
        var feed = await publisher.Client.Feeds.Create(new("phone"), "key-6").Value();

        Assert.Equal(first.Token, again.Token);
        Assert.Equal(0, await RowsWith(first.Token));
        Assert.Equal(0, await RowsWith(publisher.Token));
        Assert.Equal(0, await RowsWith(feed.Url.Segments[^1].Replace(".ics", string.Empty, StringComparison.Ordinal)));
    }

    /// <summary>How many rows of all tables hold a text, as text or as bytes.</summary>
    private async Task<long> RowsWith(string secret)
    {
        var database = service.Services.GetRequiredService<NpgsqlDataSource>();
        await using var list = database.CreateCommand(
            "select table_name from information_schema.tables where table_schema = 'releasekit' and table_type = 'BASE "
                + "TABLE'");
        await using var names = await list.ExecuteReaderAsync();
        var found = 0L;

        while (await names.ReadAsync())
        {
            await using var look = database.CreateCommand(
                $"select count(*) from releasekit.{names.GetString(0)} t where t::text like '%' || $1 || '%' or "
                    + "t::text like '%' || encode($1::bytea, 'hex') || '%'");
            look.Parameters.Add(new NpgsqlParameter { Value = secret });
            found += (long)(await look.ExecuteScalarAsync())!;
        }

        return found;
    }

    private async Task<TestPublisher> Given()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }
}
