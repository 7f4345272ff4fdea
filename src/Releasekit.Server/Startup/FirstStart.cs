using Marten;
using Npgsql;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Cluster;
using Releasekit.Server.Demo;
using Releasekit.Server.Publishers;
using Releasekit.Server.Store;

namespace Releasekit.Server.Startup;

/// <summary>What has to be there before the first request: a database that fits, a publisher, its token.</summary>
internal static class FirstStart
{
    private const int OldestPostgres = 13;
    private static readonly Scope[] AllScopes = [Scope.Read, Scope.Write, Scope.Admin, Scope.Operator];

    /// <exception cref="StartRefusal">The database does not answer, refuses us or is older than 13.</exception>
    public static async Task CheckDatabase(string database, CancellationToken cancel)
    {
        try
        {
            await using var connection = new NpgsqlConnection(database);
            await connection.OpenAsync(cancel);

            if (connection.PostgreSqlVersion.Major < OldestPostgres)
            {
                throw new StartRefusal(
                    $"PostgreSQL {connection.PostgreSqlVersion} is too old; {OldestPostgres} or newer is needed.");
            }
        }
        catch (Exception e) when (e is NpgsqlException or ArgumentException)
        {
            var reason = e.InnerException is null ? e.Message : $"{e.Message} ({e.InnerException.Message})";
            throw new StartRefusal(
                $"The database of ConnectionStrings__Postgres cannot be used: {reason.ReplaceLineEndings(" ")}");
        }
    }

    /// <exception cref="StartRefusal">The server lacks a module that search needs.</exception>
    public static async Task CheckExtensions(string database, string[] needed, CancellationToken cancel)
    {
        await using var connection = new NpgsqlConnection(database);
        await connection.OpenAsync(cancel);
        await using var ask = Sql.Command(
            "select needed from unnest($1) needed where needed not in (select name from pg_available_extensions)",
            (object)needed);
        ask.Connection = connection;
        var missing = new List<string>();
        await using var rows = await ask.ExecuteReaderAsync(cancel);

        while (await rows.ReadAsync(cancel))
        {
            missing.Add(rows.GetString(0));
        }

        if (missing.Count > 0)
        {
            throw new StartRefusal(
                $"PostgreSQL lacks its own module{(missing.Count == 1 ? "" : "s")} {string.Join(" and ", missing)}; "
                + "most systems have them in a package named postgresql-contrib: install it and start again.");
        }
    }

    /// <summary>Fills the demo where it is asked for, or opens the first publisher where there is none.</summary>
    /// <exception cref="StartRefusal">A demo was asked for in a folder that holds something else.</exception>
    public static async Task<Welcome> Prepare(
        WebApplication app, ServiceSettings settings, DataFolder folder, CancellationToken cancel)
    {
        var store = app.Services.GetRequiredService<IDocumentStore>();
        var clock = app.Services.GetRequiredService<ServiceClock>();
        var demo = app.Services.GetRequiredService<DemoFill>();
        var address = app.Urls.First();
        string? token = null;

        if (await demo.IsWanted(settings.IsDemo, cancel))
        {
            await demo.Run(address, Open, cancel);
        }
        else if (!await HasPublisher(store, cancel))
        {
            await Open(new("publisher", "Publisher", "Etc/UTC", Publisher.UsualWeek, [], clock.Now));
        }

        return new Welcome(address, folder.OwnerTokenFile, token, settings, clock.IsRehearsal);

        async Task<string> Open(Publisher publisher)
        {
            // The file first: a crash in between must not leave a publisher that nobody has a token for.
            var (kept, secret) = CreateToken.New(publisher.Id, "owner", AllScopes, publisher.OpenedAt);
            folder.WriteOwnerToken(secret);
            await OpenPublisher.Store(store, publisher, kept, cancel);
            return token = secret;
        }
    }

    private static async Task<bool> HasPublisher(IDocumentStore store, CancellationToken cancel)
    {
        await using var session = store.QuerySession();
        return await session.Query<Publisher>().AnyAsync(cancel);
    }
}
