using Npgsql;

namespace Releasekit.Server.Store;

/// <summary>Tells a database that went away, or is not there yet, from a mistake of ours.</summary>
internal static class Outage
{
    /// <summary>
    /// However deep the library has wrapped it: a connection that broke or could not be made, or 57P01 and its kin,
    /// with which a server that goes down ends its sessions (PostgreSQL, appendix A, class 57).
    /// </summary>
    public static bool IsCauseOf(Exception e) => e switch
    {
        PostgresException { SqlState: var state } when state.StartsWith("57P", StringComparison.Ordinal) => true,
        NpgsqlException { IsTransient: true } => true,
        _ => e.InnerException is { } inner && IsCauseOf(inner),
    };
}
