using Npgsql;

namespace Releasekit.Server.Store;

/// <summary>Commands with positional parameters: <c>$1</c> is the first value.</summary>
internal static class Sql
{
    public static NpgsqlCommand Command(
        this NpgsqlDataSource database, string sql, params ReadOnlySpan<object> values) =>
        Filled(database.CreateCommand(sql), values);

    public static NpgsqlCommand Command(string sql, params ReadOnlySpan<object> values) =>
        Filled(new NpgsqlCommand(sql), values);

    private static NpgsqlCommand Filled(NpgsqlCommand command, ReadOnlySpan<object> values)
    {
        foreach (var value in values)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        }

        return command;
    }
}
