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

    public static NpgsqlBatchCommand BatchCommand(string sql, params ReadOnlySpan<object> values)
    {
        var command = new NpgsqlBatchCommand(sql);
        Fill(command.Parameters, values);
        return command;
    }

    private static NpgsqlCommand Filled(NpgsqlCommand command, ReadOnlySpan<object> values)
    {
        Fill(command.Parameters, values);
        return command;
    }

    private static void Fill(NpgsqlParameterCollection parameters, ReadOnlySpan<object> values)
    {
        foreach (var value in values)
        {
            parameters.Add(new NpgsqlParameter { Value = value });
        }
    }
}
