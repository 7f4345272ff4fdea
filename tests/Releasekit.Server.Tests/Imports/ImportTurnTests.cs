using System.Diagnostics;
using Marten;
using Microsoft.Extensions.DependencyInjection;
using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Imports;
using static Releasekit.Server.Tests.Imports.ImportTests;

namespace Releasekit.Server.Tests.Imports;

/// <summary>Many imports at once, several processes, and what happens to an import in its middle.</summary>
public class ImportTurnTests(Service service)
{
    [Fact]
    public async Task Many_imports_waiting_for_one_series_hold_nobody_else_up()
    {
        await using var own = await service.StartAnother();
        var publisher = await Given(own);
        var other = await Given(own);
        var big = await Start(publisher, Rows(20_000));
        var small = new List<Import>();

        for (var i = 0; i < 60; i++)
        {
            small.Add(await Start(publisher, $"title\nSmall {i}\n"));
        }

        var watch = Stopwatch.StartNew();
        await other.Client.Releases.List();
        var read = watch.Elapsed;
        var others = await Finished(other, await Start(other, "title\nAnother\n"));
        var bigThen = await publisher.Client.Imports.Get(big.Id).Value();
        var connections = await Ask(own, "select count(*) from pg_stat_activity where datname = current_database()");
        var ends = new List<Import> { await Finished(publisher, big) };

        foreach (var import in small)
        {
            ends.Add(await Finished(publisher, import));
        }

        Assert.InRange(read, TimeSpan.Zero, TimeSpan.FromSeconds(2));
        Assert.Equal((ImportState.Done, false), (others.State, bigThen.IsOver));
        Assert.InRange(connections, 1, 20);
        Assert.All(ends, import => Assert.Equal((ImportState.Done, import.Rows), (import.State, import.Created)));
    }

    [Fact]
    public async Task Imports_of_one_series_are_carried_out_in_the_order_they_came()
    {
        var publisher = await Given(service);
        var first = await Start(publisher, Rows(3_000));
        var second = await Start(publisher, "external_id,title\ne7,Letter 7 again\nnew,New\n");

        var then = await Finished(publisher, second);
        var before = await publisher.Client.Imports.Get(first.Id).Value();

        Assert.Equal((ImportState.Done, 3_000), (before.State, before.Created));
        Assert.Equal((ImportState.Done, 1, 1), (then.State, then.Created, then.Unchanged));
    }

    [Fact]
    public async Task Progress_rises_from_nothing_to_all_rows()
    {
        var publisher = await Given(service);
        var import = await Start(publisher, Rows(20_000));
        var seen = new List<Import>();

        while (!import.IsOver)
        {
            import = await publisher.Client.Imports.Get(import.Id).Value();
            seen.Add(import);
            await Task.Delay(20);
        }

        var created = seen.Select(one => one.Created).ToArray();
        Assert.Equal(created.Order(), created);
        Assert.True(created.Distinct().Count() > 10, $"{created.Distinct().Count()} different counts were seen.");
        Assert.Contains(seen, one => one is { State: ImportState.Checking, Checked: > 0 and < 20_000, Created: 0 });
        Assert.Contains(seen, one => one is { State: ImportState.Importing, Created: > 0 and < 20_000 });
        Assert.Equal((ImportState.Done, 20_000, 20_000), (import.State, import.Checked, import.Created));
    }

    [Fact]
    public async Task Two_processes_on_one_database_take_every_row_in_once()
    {
        await using var first = await service.StartAnother();
        await using var second = await service.StartAnother(first.Database);
        var publisher = await Given(first);
        var beside = new TestPublisher(publisher.Id, publisher.Token, second.ClientWith(publisher.Token));
        var import = await Start(publisher, Rows(6_000));
        var again = await Start(beside, Rows(6_010));

        // The second process is told of the first one's run as it would find it when it looks again.
        second.Services.GetRequiredService<Server.Imports.ImportTurns>().Add(new(publisher.Id, Scenario.Series));
        var ends = new[] { await Finished(publisher, import), await Finished(beside, again) };

        Assert.Equal(
            [(ImportState.Done, 6_000, 0), (ImportState.Done, 10, 6_000)],
            ends.Select(end => (end.State, end.Created, end.Unchanged)));
        await AssertOnceEach(first, publisher, 6_010);
    }

    [Fact]
    public async Task A_database_that_fails_for_a_moment_fails_no_import()
    {
        await using var own = await service.StartAnother();
        var publisher = await Given(own);
        var import = await Start(publisher, Rows(8_000));
        await UntilSomeAreIn(publisher, import);

        await Ask(own, """
            select count(pg_terminate_backend(pid)) from pg_stat_activity
            where datname = current_database() and pid <> pg_backend_pid()
            """);
        var end = await Finished(publisher, import, isPatient: true);

        Assert.Equal((ImportState.Done, 8_000), (end.State, end.Created));
        await AssertOnceEach(own, publisher, 8_000);
    }

    /// <summary>A defect of ours, played by a row that is spoilt behind the service's back.</summary>
    [Fact]
    public async Task A_run_that_fails_in_its_middle_says_truly_what_was_imported()
    {
        await using var own = await service.StartAnother();
        var publisher = await Given(own);
        var import = await Start(publisher, Rows(8_000));
        await UntilSomeAreIn(publisher, import);

        await Ask(own, $$"""
            update releasekit.import_rows set release = jsonb_set(release, '{title}', '""') where row = 7900;
            select 0::bigint
            """);
        var end = await Finished(publisher, import);
        await using var session = own.Services.GetRequiredService<IDocumentStore>().QuerySession(publisher.Id);

        Assert.Equal((ImportState.Failed, 7_500), (end.State, end.Created));
        Assert.Equal(7_901, Assert.Single(end.Errors).Line);
        Assert.Contains("7500 releases were imported", end.Errors[0].Reason, StringComparison.Ordinal);
        Assert.Equal(7_500, await session.Query<Domain.Releases.Release>().CountAsync());
    }

    [Fact]
    public async Task A_publisher_erased_in_the_middle_of_its_import_leaves_nothing()
    {
        await using var own = await service.StartAnother();
        var keeper = await own.NewPublisher();
        var publisher = await Given(own);
        var import = await Start(publisher, Rows(20_000));
        await UntilSomeAreIn(publisher, import);

        var erased = await keeper.Client.Publishers.Erase(publisher.Id);
        await Task.Delay(TimeSpan.FromSeconds(3));

        Assert.Equal(System.Net.HttpStatusCode.NoContent, erased.StatusCode);
        Assert.Empty(await TablesThatHold(own, publisher.Id));
        Assert.NotEmpty(await TablesThatHold(own, keeper.Id));
    }

    /// <summary>Every table of the service in which something of the publisher stands.</summary>
    private static async Task<string[]> TablesThatHold(Service own, string publisher)
    {
        await using var connection = new NpgsqlConnection(own.Database);
        await connection.OpenAsync();
        await using var list = new NpgsqlCommand(
            "select table_name from information_schema.tables where table_schema = 'releasekit'", connection);
        var (tables, holding) = (new List<string>(), new List<string>());

        await using (var rows = await list.ExecuteReaderAsync())
        {
            while (await rows.ReadAsync())
            {
                tables.Add(rows.GetString(0));
            }
        }

        foreach (var table in tables)
        {
            await using var ask = new NpgsqlCommand(
                $"select exists(select from releasekit.{table} as t where t::text like '%' || $1 || '%')", connection);
            ask.Parameters.Add(new() { Value = publisher });

            if ((bool)(await ask.ExecuteScalarAsync())!)
            {
                holding.Add(table);
            }
        }

        return [.. holding];
    }

    internal static string Rows(int rows) =>
        $"external_id,title\n{string.Concat(Enumerable.Range(0, rows).Select(i => $"e{i},Letter {i}\n"))}";

    internal static async Task UntilSomeAreIn(TestPublisher publisher, Import import)
    {
        while ((await publisher.Client.Imports.Get(import.Id).Value()) is { Created: 0, IsOver: false })
        {
            await Task.Delay(5);
        }
    }

    private static Task<Import> Start(TestPublisher publisher, string file) =>
        publisher.Client.Imports.Start(Csv(file), Scenario.Series).Value();

    private static async Task AssertOnceEach(Service own, TestPublisher publisher, int rows)
    {
        await using var session = own.Services.GetRequiredService<IDocumentStore>().QuerySession(publisher.Id);
        var ids = await session.Query<Domain.Releases.Release>().Select(release => release.ExternalId!).ToListAsync();

        Assert.Equal((rows, rows), (ids.Count, ids.Distinct().Count()));
    }

    private static async Task<long> Ask(Service own, string sql)
    {
        await using var connection = new NpgsqlConnection(own.Database);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        return (long)(await command.ExecuteScalarAsync())!;
    }

    private static async Task<TestPublisher> Given(Service own)
    {
        var publisher = await own.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }
}
