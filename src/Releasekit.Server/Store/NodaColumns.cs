using System.Data;
using NpgsqlTypes;
using Weasel.Postgresql;

namespace Releasekit.Server.Store;

/// <summary>Teaches Marten's LINQ the NodaTime types that stand in columns of their own.</summary>
internal static class NodaColumns
{
    public static void Register()
    {
        NpgsqlTypeMapper.Mappings[NpgsqlDbType.TimestampTz] = new(
            NpgsqlDbType.TimestampTz, DbType.DateTimeOffset, "timestamp with time zone", typeof(DateTimeOffset),
            typeof(Instant));
        NpgsqlTypeMapper.Mappings[NpgsqlDbType.Date] = new(
            NpgsqlDbType.Date, DbType.Date, "date", typeof(LocalDate), typeof(DateOnly));
    }
}
