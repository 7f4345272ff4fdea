using Marten;
using Npgsql;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Cluster;
using Releasekit.Server.Publishers;

namespace Releasekit.Server.Startup;

/// <summary>What has to be there before the first request: a database that fits, a publisher, its token.</summary>
internal static class FirstStart
{
    private const int OldestPostgres = 130_000;
    private static readonly Scope[] AllScopes = [Scope.Read, Scope.Write, Scope.Admin, Scope.Operator];

    /// <exception cref="StartRefusal">The database does not answer, refuses us or is older than 13.</exception>
    public static async Task CheckDatabase(IServiceProvider services, CancellationToken cancel)
    {
        try
        {
            await using var connection = await services.GetRequiredService<NpgsqlDataSource>().OpenConnectionAsync(cancel);
            await using var ask = new NpgsqlCommand("show server_version_num", connection);
            var version = int.Parse((string)(await ask.ExecuteScalarAsync(cancel))!, System.Globalization.CultureInfo.InvariantCulture);

            if (version < OldestPostgres)
            {
                throw new StartRefusal($"PostgreSQL {version / 10_000} is too old; 13 or newer is needed.");
            }
        }
        catch (NpgsqlException e)
        {
            throw new StartRefusal($"The database cannot be used: {e.Message.ReplaceLineEndings(" ")}");
        }
    }

    /// <summary>Opens the first publisher where there is none, and writes its token into the data folder.</summary>
    public static async Task<Welcome> Prepare(
        WebApplication app, ServiceSettings settings, DataFolder folder, CancellationToken cancel)
    {
        var store = app.Services.GetRequiredService<IDocumentStore>();
        var clock = app.Services.GetRequiredService<ServiceClock>();
        var address = app.Urls.First();
        await using var session = store.QuerySession();

        if (await session.Query<Publisher>().AnyAsync(cancel))
        {
            return new Welcome(address, folder.OwnerTokenFile, NewToken: null, settings, clock.IsRehearsal);
        }

        var publisher = new Publisher("publisher", "Publisher", "Etc/UTC", Publisher.UsualWeek, [], clock.Now);
        var token = await OpenPublisher.Open(store, publisher, AllScopes, "owner", cancel);
        folder.WriteOwnerToken(token!);

        return new Welcome(address, folder.OwnerTokenFile, token, settings, clock.IsRehearsal);
    }
}
