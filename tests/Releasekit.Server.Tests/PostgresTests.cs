using Npgsql;

namespace Releasekit.Server.Tests;

public class PostgresTests(Service service)
{
    [Fact]
    public async Task Every_test_class_can_have_an_empty_database_of_its_own()
    {
        var cancel = TestContext.Current.CancellationToken;
        foreach (var _ in Enumerable.Range(0, 2))
        {
            var database = await service.Postgres.CreateDatabaseAsync(cancel);
            await using var connection = new NpgsqlConnection(database);
            await connection.OpenAsync(cancel);
            await using var make = new NpgsqlCommand("create table mine (n int); show timezone", connection);
            Assert.Equal("UTC", await make.ExecuteScalarAsync(cancel));
        }
    }
}
