using System.Collections.Concurrent;
using Releasekit.Client;
using Releasekit.Client.Releases;
using Releasekit.Server.Cluster;
using Releasekit.Server.Tests.Cluster;

namespace Releasekit.Server.Tests.Http;

/// <summary>The database goes away under a living service, and comes back.</summary>
public class OutageTests(Service service, MadeCluster made) : IClassFixture<MadeCluster>
{
    private static readonly string[] Stages = ["outline", "record", "mix", "publish", "announce", "letter"];

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task Without_a_database_every_request_is_answered_503_and_with_it_the_service_works_again()
    {
        var cluster = await made.Start(Cancel);
        await using (var own = await service.StartAnother(cluster.ConnectionString))
        {
            var client = (await own.NewPublisher()).Client;
            await client.GivenASeries();
            var releases = await Task.WhenAll(Enumerable.Range(0, 20)
                .Select(i => client.Releases.Plan(new(Scenario.Series, $"No. {i}")).Value()));
            var acknowledged = new ConcurrentBag<(Guid Release, string Stage)>();
            var writing = releases.Select(release => WriteUntilRefused(client, release.Id, acknowledged)).ToArray();

            Posix.Signal(cluster.ServerProcess, Posix.Kill);
            var cutOff = (await Task.WhenAll(writing)).OfType<ReleasekitProblem>();
            await cluster.Ended.WaitAsync(TimeSpan.FromSeconds(10), Cancel);
            ReleasekitProblem[] without =
            [
                .. cutOff,
                await client.Releases.Get(releases[0].Id).Problem(),
                await client.Releases.Record(releases[0].Id, new("mix", StageState.Completed)).Problem(),
                await client.Service.Ready().Problem(),
            ];
            await cluster.DisposeAsync();
            cluster = await made.Start(Cancel);

            Assert.All(without, problem => Assert.Equal((503, "unavailable"), (problem.Status, problem.Code)));
            Assert.Equal("pass", (await client.Service.Ready().Value()).Status);
            foreach (var (id, stage) in acknowledged)
            {
                Assert.Equal(StageState.Completed, (await client.Releases.Get(id).Value())[stage].State);
            }

            Assert.Equal(
                StageState.Skipped, (await client.Record(releases[0], "letter", StageState.Skipped, note: "late"))
                    ["letter"].State);
        }

        await cluster.DisposeAsync();
    }

    /// <returns>What it was refused with; null where it came to the end of its stages.</returns>
    private static async Task<ReleasekitProblem?> WriteUntilRefused(
        ReleasekitClient client, Guid release, ConcurrentBag<(Guid, string)> acknowledged)
    {
        foreach (var stage in Stages)
        {
            var answer = await client.Releases.Record(release, new(stage, StageState.Completed));

            if (!answer.IsSuccessStatusCode)
            {
                return answer.Problem();
            }

            acknowledged.Add((release, stage));
        }

        return null;
    }
}
