using System.Net;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Projects;

namespace Releasekit.Server.Tests.Projects;

/// <summary>
/// How many projects are taken on in a year: counted in the publisher's zone, and never one too many.
/// </summary>
public sealed class ProjectLimitTests(Service shared) : IAsyncLifetime
{
    private Service _service = null!;
    private TestPublisher _publisher = null!;

    private IProjects Projects => _publisher.Client.Projects;

    public async ValueTask InitializeAsync()
    {
        _service = await shared.StartAnother();
        _service.Clock.StandAt(Instant.FromUtc(2026, 3, 2, 9, 0));
        _publisher = await _service.NewPublisher();
    }

    public ValueTask DisposeAsync() => _service.DisposeAsync();

    [Fact]
    public async Task Forty_starts_at_once_in_two_services_take_on_six()
    {
        await using var second = await shared.StartAnother(_service.Database);
        second.Clock.StandAt(_service.Clock.Now);
        var clients = new[] { Projects, new ReleasekitClient(second.ClientWith(_publisher.Token)).Projects };
        var proposed = new List<Guid>();

        foreach (var i in Enumerable.Range(0, 40))
        {
            proposed.Add((await Projects.Propose(new($"No. {i}")).Value()).Id);
        }

        var answers = await Task.WhenAll(proposed.Select((id, i) => Start(id, clients[i % 2])));

        Assert.Equal(6, answers.Count(answer => answer.StatusCode is HttpStatusCode.OK));
        Assert.All(answers.Where(answer => answer.StatusCode is not HttpStatusCode.OK), answer =>
            Assert.Equal((409, "project.limit"), (answer.Problem().Status, answer.Problem().Code)));
        Assert.Equal(6, (await Projects.List(new("started")).Value()).Items.Count);
    }

    [Fact]
    public async Task The_same_start_many_times_at_once_is_one_start()
    {
        var id = (await Projects.Propose(new("Night walk")).Value()).Id;

        var answers = await Task.WhenAll(Enumerable.Range(0, 20).Select(_ => Start(id)));

        Assert.All(answers, answer => Assert.Equal(HttpStatusCode.OK, answer.StatusCode));
        Assert.Equal(2, (await Projects.History(id).Value()).Items.Count);
    }

    [Fact]
    public async Task What_was_finished_or_dropped_counts_and_the_refusal_names_it()
    {
        await Limit(2);
        var (walk, booklet, map) = (await Proposed("Night walk"), await Proposed("Booklet"), await Proposed("Map"));
        await Start(walk);
        await Projects.Finish(walk, new());
        await Start(booklet);
        await Projects.Drop(booklet, new("no paper"));

        var problem = (await Start(map)).Problem();
        await Limit(3);
        var started = await Start(map);

        Assert.Equal((409, "project.limit"), (problem.Status, problem.Code));
        Assert.Contains("'Night walk', 'Booklet'", problem.Detail, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.OK, started.StatusCode);
    }

    /// <summary>Auckland is thirteen hours ahead of UTC at the turn of the year (tz database).</summary>
    [Fact]
    public async Task The_year_turns_at_the_publishers_own_midnight()
    {
        await Limit(1, zone: "Pacific/Auckland");
        var (first, second, third) = (await Proposed("One"), await Proposed("Two"), await Proposed("Three"));

        Assert.Equal(HttpStatusCode.OK, await StartAt(first, Instant.FromUtc(2026, 12, 31, 10, 58)));
        Assert.Equal(HttpStatusCode.Conflict, await StartAt(second, Instant.FromUtc(2026, 12, 31, 10, 59)));
        Assert.Equal(HttpStatusCode.OK, await StartAt(second, Instant.FromUtc(2026, 12, 31, 11, 0)));
        Assert.Equal(HttpStatusCode.Conflict, await StartAt(third, Instant.FromUtc(2027, 1, 1, 0, 0)));
        Assert.Equal(HttpStatusCode.Conflict, await StartAt(third, Instant.FromUtc(2027, 12, 31, 10, 59)));

        async Task<HttpStatusCode?> StartAt(Guid id, Instant at)
        {
            _service.Clock.StandAt(at);
            return (await Start(id)).StatusCode;
        }
    }

    [Fact]
    public async Task A_publisher_stored_before_there_was_a_limit_takes_on_six()
    {
        var database = _service.Services.GetRequiredService<NpgsqlDataSource>();
        await using var forget = database.CreateCommand(
            "update releasekit.mt_doc_publisher set data = data - 'projectsAYear' where id = $1");
        forget.Parameters.Add(new NpgsqlParameter { Value = _publisher.Id });
        await Limit(7);

        Assert.Equal(1, await forget.ExecuteNonQueryAsync());
        Assert.Equal(6, (await _publisher.Client.Publishers.Get().Value()).ProjectsAYear);
        Assert.Equal(
            (422, "/projectsAYear"),
            await _publisher.Client.Publishers.Change(new(ProjectsAYear: 101), "*").Problem() is var problem
                ? (problem.Status, Assert.Single(problem.Errors!).Place)
                : default);
    }

    private async Task<Guid> Proposed(string title) => (await Projects.Propose(new(title)).Value()).Id;

    private Task<Refit.IApiResponse<Project>> Start(Guid id, IProjects? projects = null) =>
        (projects ?? Projects).Start(id, new("Heard by ten", _service.Clock.Now.InUtc().Date.PlusDays(60)));

    private async Task Limit(int projects, string? zone = null) =>
        await _publisher.Client.Publishers.Change(new(Zone: zone, ProjectsAYear: projects), "*").Value();
}
