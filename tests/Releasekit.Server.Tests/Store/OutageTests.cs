using System.Net.Sockets;
using Marten.Exceptions;
using Npgsql;
using Releasekit.Server.Store;

namespace Releasekit.Server.Tests.Store;

/// <summary>Codes and their meaning: PostgreSQL 15, appendix A, from memory.</summary>
public class OutageTests
{
    [Theory]
    [InlineData("57P01", true)] // admin_shutdown
    [InlineData("57P02", true)] // crash_shutdown
    [InlineData("57P03", true)] // cannot_connect_now
    [InlineData("08006", true)] // connection_failure
    [InlineData("57014", false)] // query_canceled
    [InlineData("42P01", false)] // undefined_table
    [InlineData("23505", false)] // unique_violation
    public void What_a_server_says_while_it_goes_down_is_an_outage_also_wrapped_by_the_store(string code, bool expected)
    {
        var said = new PostgresException("said", "FATAL", "FATAL", code);
        using var command = new NpgsqlCommand();

        Assert.Equal(expected, Outage.IsCauseOf(said));
        Assert.Equal(expected, Outage.IsCauseOf(new MartenCommandException(command, said)));
    }

    [Fact]
    public void A_connection_that_broke_or_was_never_made_is_an_outage_and_a_defect_is_not()
    {
        using var command = new NpgsqlCommand();
        var refused = new NpgsqlException("connecting", new SocketException((int)SocketError.ConnectionRefused));
        var broken = new NpgsqlException("writing", new IOException("broken pipe"));

        Assert.True(Outage.IsCauseOf(new MartenCommandException(command, refused)));
        Assert.True(Outage.IsCauseOf(broken));
        Assert.False(Outage.IsCauseOf(new IOException("of a file")));
        Assert.False(Outage.IsCauseOf(new InvalidOperationException("ours", new ArgumentException("too"))));
    }
}
