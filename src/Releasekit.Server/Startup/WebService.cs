using Microsoft.AspNetCore.Server.Kestrel.Core;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav;
using Releasekit.Server.Clock;
using Releasekit.Server.Demo;
using Releasekit.Server.Docs;
using Releasekit.Server.Events;
using Releasekit.Server.Feeds;
using Releasekit.Server.Http;
using Releasekit.Server.Ideas;
using Releasekit.Server.Imports;
using Releasekit.Server.Jobs;
using Releasekit.Server.Learning;
using Releasekit.Server.Pages;
using Releasekit.Server.Planning;
using Releasekit.Server.Plans;
using Releasekit.Server.Projects;
using Releasekit.Server.Publishers;
using Releasekit.Server.Releases;
using Releasekit.Server.Schedule;
using Releasekit.Server.Search;
using Releasekit.Server.Sheets;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Startup;

/// <summary>The list of everything: services, then what every request passes, then folders of routes.</summary>
internal static class WebService
{
    private const long LargestBody = 1 << 20;

    /// <param name="change">Changes the services before the application is
    /// built; for the few who need another set.</param>
    public static WebApplication Build(
        ServiceSettings settings, string database, Action<IServiceCollection>? change = null)
    {
        var builder = WebApplication.CreateSlimBuilder(new WebApplicationOptions { Args = settings.Flags });

        builder.WebHost.UseUrls(settings.Urls);
        builder.WebHost.ConfigureKestrel(LimitRequests);
        builder.Logging.SetMinimumLevel(LogLevel.Warning);
        // It warns of keys kept in the clear: whoever reads the database reads everything else in it too.
        builder.Logging.AddFilter("Microsoft.AspNetCore.DataProtection", LogLevel.Error);
        // It warns of every form that is not ours, and of headers that are as strict as its own.
        builder.Logging.AddFilter("Microsoft.AspNetCore.Antiforgery", LogLevel.Error);
        builder.Logging.AddFilter("Quartz", LogLevel.Error);
        // A stop in the middle of its questions is no fault.
        builder.Logging.AddFilter("Quartz.Impl.AdoJobStore.ConnectionAndTransactionHolder", LogLevel.None);
        builder.Services.ConfigureHttpJsonOptions(options => ApiJson.Configured(options.SerializerOptions));
        builder.Services.Configure<RouteHandlerOptions>(options => options.ThrowOnBadRequest = true);

        AddServices(builder.Services, settings, database);
        BodyGuard.LeaveBodiesToRoutes(builder.Services);
        change?.Invoke(builder.Services);

        var app = builder.Build();

        app.UseMiddleware<ErrorAnswers>();
        app.UseRouting();
        app.UseMiddleware<SafeHeaders>();
        app.UseMiddleware<AccessGate>();
        app.UseMiddleware<QueryGuard>();
        app.UseMiddleware<BodyGuard>();
        app.UseMiddleware<IdempotentPosts>();

        MapRoutes(app);
        app.RefuseRoutesWithoutScope();

        return app;
    }

    private static void AddServices(IServiceCollection services, ServiceSettings settings, string database)
    {
        services.AddSingleton<IHostLifetime, StoppedFromOutside>();
        services.AddSingleton(TimeProvider.System);
        services.AddSingleton(settings.Clock);
        services.AddSingleton<ServiceClock>();
        services.AddSingleton<FailedTokens>();
        services.AddSingleton<Origin>();
        services.AddSingleton<Readiness>();
        services.AddStore(database);
        services.AddImports();
        services.AddProjects();
        services.AddPages();
        services.AddCalDav();
        services.AddJobs(settings.Clock);
        services.AddSingleton<DemoFill>();
        services.AddContract();
    }

    private static void MapRoutes(WebApplication app)
    {
        var api = app.MapGroup("/v1");

        api.MapPublishers();
        api.MapTokens();
        api.MapStagePlans();
        api.MapSchedule();
        api.MapLearning();
        api.MapReleases();
        api.MapProjects();
        api.MapPlanning();
        api.MapIdeas();
        api.MapWork();
        api.MapSearch();
        api.MapImports();
        api.MapFeeds();
        api.MapCalendarNotices();
        api.MapSheets();
        api.MapJobs();
        api.MapEvents();

        app.MapFeedAddress();
        app.MapCalDav();
        app.MapHealth();
        app.MapContract();
        app.MapDocs();
        app.MapPages();
    }

    private static void LimitRequests(KestrelServerOptions kestrel)
    {
        kestrel.AddServerHeader = false;
        kestrel.Limits.MaxRequestBodySize = LargestBody;
        kestrel.Limits.MaxRequestLineSize = 4_096;
        kestrel.Limits.MaxRequestHeaderCount = 64;
        kestrel.Limits.MaxRequestHeadersTotalSize = 16_384;
        kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(15);
        kestrel.Limits.MinRequestBodyDataRate = new MinDataRate(
            bytesPerSecond: 240, gracePeriod: TimeSpan.FromSeconds(10));
    }
}
