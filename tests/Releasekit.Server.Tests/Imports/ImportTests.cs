using System.Net;
using System.Text;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Releasekit.Client;
using Releasekit.Client.Imports;

namespace Releasekit.Server.Tests.Imports;

/// <summary>CSV files in through the API: what is read, what is refused, and that nothing is half imported.</summary>
public class ImportTests(Service service)
{
    private const string File = """
        title,slot_date,published_at,outline_completed_at,mood
        "Salt, and ""more"" salt",2026-01-08,2026-01-08T07:20:00Z,2026-01-05T20:00:00Z,good
        "Two
        lines are no title",2026-01-15,,,
        """;

    [Fact]
    public async Task A_row_becomes_a_release_with_the_history_it_tells()
    {
        var publisher = await Given();

        var import = await Import(publisher, File.Replace("Two\n", "Two ", StringComparison.Ordinal));
        var releases = (await publisher.Client.Releases.List()).Content!.Items;

        Assert.Equal((ImportState.Done, 2, 2, 0), (import.State, import.Rows, import.Created, import.Unchanged));
        Assert.Equal(["mood"], import.IgnoredColumns);
        Assert.Equal("Salt, and \"more\" salt", releases[0].Title);
        Assert.Equal(Instant.FromUtc(2026, 1, 5, 20, 0), releases[0].PlannedAt);
        Assert.Equal(Instant.FromUtc(2026, 1, 8, 7, 20), releases[0].PublishedAt);
        Assert.Equal(new LocalDate(2026, 1, 8), releases[0].Slot!.Date);
        Assert.True(releases[0]["publish"].OutOfOrder);
        Assert.Null(releases[1].PublishedAt);
    }

    [Fact]
    public async Task The_same_file_again_adds_nothing_and_a_dry_run_stores_nothing()
    {
        var publisher = await Given();
        var file = "title,published_at\nFirst,2026-01-08T07:20:00Z\n,2026-01-15T09:00:00+01:00\nonly a title,\n";

        var dry = await Import(publisher, file, dryRun: true);
        var none = (await publisher.Client.Releases.List()).Content!.Items.Count;
        var once = await Import(publisher, file);
        var twice = await Import(publisher, file.Replace("\n", "\r\n", StringComparison.Ordinal));
        var titles = (await publisher.Client.Releases.List()).Content!.Items.Select(release => release.Title);

        Assert.Equal((ImportState.Done, 3, 0), (dry.State, dry.Created, none));
        Assert.Equal((3, 0), (once.Created, once.Unchanged));
        Assert.Equal((0, 3), (twice.Created, twice.Unchanged));
        Assert.Equal(["First", "2026-01-15", "only a title"], titles);
    }

    [Fact]
    public async Task A_row_may_tell_the_publication_alone_where_the_plan_has_it_strictly_after_others()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.StagePlans.Create(
            new("audio", [new("edit"), new("publish", Publication: true, After: ["edit"], Strict: ["edit"])])).Value();
        await publisher.Client.GivenASeries();

        var import = await Import(publisher, "title,published_at\nx,2026-01-08T07:20:00Z\n");
        var release = Assert.Single((await publisher.Client.Releases.List()).Content!.Items);

        Assert.Equal((ImportState.Done, 1), (import.State, import.Created));
        Assert.True(release["publish"].OutOfOrder);
    }

    [Fact]
    public async Task One_bad_row_and_nothing_is_imported()
    {
        var publisher = await Given();

        var import = await Import(publisher, """
            title,slot_date,published_at,outline_started_at,outline_completed_at
            good,2026-01-08,2026-01-08T07:20:00Z,,
            bad slot,2026-01-09,,,
            bad time,,yesterday,,
            backwards,,,2026-01-05T20:00:00Z,2026-01-05T19:00:00Z
            short,2026-01-15
            same slot,2026-01-08,,,
            to come,,2199-01-01T00:00:00Z,,
            ,,,,
            """);

        Assert.Equal((ImportState.Failed, 0), (import.State, import.Created));
        Assert.Equal(
            [(3, "slot_date"), (4, "published_at"), (5, "outline_completed_at"), (6, null), (7, null),
                (8, "published_at"), (9, null)],
            import.Errors.Select(error => (error.Line, error.Column)));
        Assert.Empty((await publisher.Client.Releases.List()).Content!.Items);
    }

    [Fact]
    public async Task Imported_events_are_marked_and_the_run_is_its_publishers_alone()
    {
        var publisher = await Given();
        var import = await Import(publisher, "title,published_at\n=SUM(A1),2026-01-08T07:20:00Z\n");
        var release = Assert.Single((await publisher.Client.Releases.List()).Content!.Items);
        var other = await service.NewPublisher();

        await using var session = service.Services.GetRequiredService<IDocumentStore>().QuerySession(publisher.Id);
        var events = await session.Events.FetchStreamAsync(release.Id);

        Assert.Equal("=SUM(A1)", release.Title);
        Assert.All(events, e => Assert.Equal("import", e.GetHeader("origin")?.ToString()));
        Assert.Equal(HttpStatusCode.NotFound, (await other.Client.Imports.Get(import.Id)).StatusCode);
    }

    [Fact]
    public async Task A_large_file_comes_in_while_others_are_served()
    {
        var publisher = await Given();
        var rows = Enumerable.Range(0, 5_000)
            .Select(i => $"e{i},Letter {i},{Instant.FromUtc(2000, 1, 1, 0, 0) + Duration.FromHours(i)}");

        var started = await publisher.Client.Imports.Start(
            Csv($"external_id,title,published_at\n{string.Join('\n', rows)}\n"), Scenario.Series).Value();
        var other = await Given();
        var small = await Import(other, "title\nSmall\n");
        var large = await Finished(publisher, started);

        Assert.Equal((1, 5_000), (small.Created, large.Created));
    }

    internal static StringContent Csv(string file) => new(file, new UTF8Encoding(false), "text/csv");

    /// <param name="isPatient">An answer that cannot be had for a moment is asked for again.</param>
    internal static async Task<Import> Finished(TestPublisher publisher, Import import, bool isPatient = false)
    {
        var deadline = TimeProvider.System.GetTimestamp();

        while (!import.IsOver)
        {
            Assert.True(TimeProvider.System.GetElapsedTime(deadline) < TimeSpan.FromMinutes(1),
                $"The import is still {import.State}.");
            await Task.Delay(20);
            var answer = await publisher.Client.Imports.Get(import.Id);
            import = isPatient && !answer.IsSuccessStatusCode ? import : answer.Content ?? throw answer.Error!;
        }

        return import;
    }

    internal static async Task<Import> Import(
        TestPublisher publisher, string file, string? map = null, string? ignore = null, bool? dryRun = null) =>
        await Finished(
            publisher, await publisher.Client.Imports.Start(Csv(file), Scenario.Series, map, ignore, dryRun).Value());

    private async Task<TestPublisher> Given()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }
}
