using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Imports;

namespace Releasekit.Server.Tests.Imports;

/// <summary>An import whose process dies in its middle.</summary>
public class ImportCrashTests(Service service)
{
    private const int Rows = 10_000;

    [Fact]
    public async Task An_import_whose_process_was_killed_is_finished_by_the_next_one_with_every_row_once()
    {
        var database = await service.Postgres.CreateDatabaseAsync();
        await using var folder = TempFolder.Make();
        var import = await KilledInTheMiddle(folder.Path, database);

        using var next = await KillableService.Start(folder.Path, database);
        var atDeath = await next.Client.Imports.Get(import.Id).Value();
        var end = atDeath;

        while (!end.IsOver)
        {
            await Task.Delay(50);
            end = await next.Client.Imports.Get(import.Id).Value();
        }

        Assert.InRange(atDeath.Created, import.Created, Rows - 1);
        Assert.Equal((ImportState.Done, Rows, 0), (end.State, end.Created, end.Unchanged));
        Assert.Equal($"{Rows} {Rows} 0", await Ask(database, """
            select concat_ws(' ', count(*), count(distinct data ->> 'externalId'),
                             (select count(*) from releasekit.import_rows))
            from releasekit.mt_doc_release
            """));
    }

    /// <summary>The import as it was last seen before the process was killed.</summary>
    private static async Task<Import> KilledInTheMiddle(string folder, string database)
    {
        using var killed = await KillableService.Start(folder, database);
        await killed.Client.GivenASeries();
        var import = await killed.Client.Imports
            .Start(ImportTests.Csv(ImportTurnTests.Rows(Rows)), Scenario.Series).Value();

        while (import.Created == 0)
        {
            import = await killed.Client.Imports.Get(import.Id).Value();
        }

        killed.Kill();
        return import;
    }

    private static async Task<string> Ask(string database, string sql)
    {
        await using var connection = new NpgsqlConnection(database);
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);
        return (string)(await command.ExecuteScalarAsync())!;
    }
}
