using System.Net.Http.Headers;
using Marten;
using Microsoft.AspNetCore.Builder;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Releasekit.Client;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Jobs;
using Releasekit.Server.Learning;
using Releasekit.Server.Publishers;
using Releasekit.Server.Reminders;
using Releasekit.Server.Startup;
using Releasekit.Server.Tests;

[assembly: AssemblyFixture(typeof(Service))]

namespace Releasekit.Server.Tests;

/// <summary>
/// The whole service on a real server port and a real database, started once
/// for all tests. Every test takes a publisher of its own, so nothing is wiped and classes run side by side. A test
/// that turns the clock starts a service of its own.
/// </summary>
public sealed class Service : IAsyncLifetime
{
    private readonly bool _ownsPostgres;
    private bool _withJobs;
    private WebApplication? _app;

    /// <summary>What the test run makes of it: a service and the database server it runs on.</summary>
    public Service()
        : this(new Postgres()) => _ownsPostgres = true;

    private Service(Postgres postgres) => Postgres = postgres;

    /// <summary>The database server of the run.</summary>
    public Postgres Postgres { get; }

    /// <summary>The database it works on; made when it starts.</summary>
    internal string? Database { get; private set; }

    /// <summary>Where it answers, e.g. <c>http://127.0.0.1:40123</c>.</summary>
    public string Address => _app!.Urls.First();

    internal IServiceProvider Services => _app!.Services;

    internal ServiceClock Clock => Services.GetRequiredService<ServiceClock>();

    /// <summary>Another service with a database and a clock of its own.</summary>
    /// <param name="database">The database of another service; a new one when left out.</param>
    /// <param name="withJobs">Whether its jobs run by themselves; most tests want nobody else at work.</param>
    internal async Task<Service> StartAnother(string? database = null, bool withJobs = false)
    {
        var service = new Service(Postgres) { Database = database, _withJobs = withJobs };
        await service.InitializeAsync();
        return service;
    }

    public async ValueTask InitializeAsync()
    {
        var database = Database ??= await Postgres.CreateDatabaseAsync();
        var settings = new ServiceSettings(
            Path.GetTempPath(), "http://127.0.0.1:0", IsDemo: false, IsRebuild: false,
            database, new ClockOptions(), Flags: []);
        _app = WebService.Build(settings, database, _withJobs ? null : WithoutJobs);
        await _app.StartAsync();
    }

    /// <summary>
    /// A fresh publisher with a client that holds a token of those scopes; all four when none are named.
    /// </summary>
    internal async Task<TestPublisher> NewPublisher(params Scope[] scopes)
    {
        var publisher = new Publisher(
            $"p-{Guid.NewGuid():N}", "Mudflat", "Europe/Lisbon", Publisher.UsualWeek, [], Clock.Now);
        var (token, secret) = CreateToken.New(
            publisher.Id, "test", scopes.Length == 0 ? Enum.GetValues<Scope>() : scopes, publisher.OpenedAt);
        await OpenPublisher.Store(
            Services.GetRequiredService<IDocumentStore>(), publisher, token, CancellationToken.None);

        return new TestPublisher(publisher.Id, secret, ClientWith(secret));
    }

    /// <summary>A client that sends <paramref name="token"/>; none when null.</summary>
    public HttpClient ClientWith(string? token)
    {
        var http = new HttpClient { BaseAddress = new Uri(Address) };
        http.DefaultRequestHeaders.Authorization = token is null
            ? null : new AuthenticationHeaderValue("Bearer", token);
        return http;
    }

    /// <summary>Does now what the service does once an hour.</summary>
    internal Task Upkeep() => Services.GetRequiredService<EntryUpkeep>().Run(Clock.Now, CancellationToken.None);

    /// <summary>Raises now what reminders are owed.</summary>
    internal Task Remind() => Services.GetRequiredService<RaiseReminders>().Run(CancellationToken.None);

    /// <summary>Keeps now what is forecast today.</summary>
    internal Task KeepForecasts() => Services.GetRequiredService<KeepForecasts>().Run(CancellationToken.None);

    private static void WithoutJobs(IServiceCollection services) => services.Remove(services.Last(service =>
        service.ServiceType == typeof(IHostedService)
        && service.ImplementationFactory?.Method.ReturnType == typeof(JobScheduler)));

    public async ValueTask DisposeAsync()
    {
        if (_app is not null)
        {
            await _app.StopAsync();
            await _app.DisposeAsync();
        }

        if (_ownsPostgres)
        {
            await Postgres.DisposeAsync();
        }
    }
}

/// <summary>A publisher that one test has to itself.</summary>
internal sealed record TestPublisher(string Id, string Token, HttpClient Http)
{
    public ReleasekitClient Client { get; } = new(Http);
}
