using Npgsql;

namespace Releasekit.Server.Tests;

public class PostgresTests(Postgres postgres)
{
    [Fact]
    public async Task Every_test_class_can_have_an_empty_database_of_its_own()
    {
        var cancel = TestContext.Current.CancellationToken;
        var databases = new[] { await postgres.CreateDatabaseAsync(cancel), await postgres.CreateDatabaseAsync(cancel) };

        foreach (var database in databases)
        {
            await using var connection = new NpgsqlConnection(database);
            await connection.OpenAsync(cancel);
            await using var make = new NpgsqlCommand("create table mine (n int); show timezone", connection);
            Assert.Equal("UTC", await make.ExecuteScalarAsync(cancel));
        }
    }
}
