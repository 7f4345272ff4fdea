using System.Data.Common;
using JasperFx.Events;
using JasperFx.Events.Projections;
using JasperFx.MultiTenancy;
using Marten;
using Npgsql;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.Demo;
using Releasekit.Server.Entries;
using Releasekit.Server.Feeds;
using Releasekit.Server.Imports;
using Releasekit.Server.Learning;
using Releasekit.Server.Plans;
using Releasekit.Server.Search;
using Weasel.Postgresql;

namespace Releasekit.Server.Store;

/// <summary>How the service keeps things: one PostgreSQL database, every row under its publisher.</summary>
internal static class StoreSetup
{
    private const string SchemaName = "releasekit";

    public static IServiceCollection AddStore(this IServiceCollection services, string connection)
    {
        NodaColumns.Register();

        // Made by the container, so that its connections end with the service.
        services.AddSingleton(_ => BuildDataSource(connection));
        services.AddSingleton<DbDataSource>(provider => provider.GetRequiredService<NpgsqlDataSource>());
        services
            .AddMarten(Configure)
            .UseNpgsqlDataSource()
            .ApplyAllDatabaseChangesOnStartup();
        services.AddSingleton<Ledger>();
        services.AddSingleton<Rebuild>();
        services.AddSingleton<IdempotencyKeys>();
        services.AddSingleton<TokenTable>();
        services.AddSingleton<EventLog>();
        services.AddSingleton<SessionKeys>();
        services.AddSingleton<EntryUpkeep>();

        return services;
    }

    private static NpgsqlDataSource BuildDataSource(string connection)
    {
        var settings = new NpgsqlConnectionStringBuilder(connection)
        {
            // Marten's quick append writes now() without a zone: a session in another zone would store wrong times.
            Timezone = "UTC",
            MaxAutoPrepare = 60,
            AutoPrepareMinUsages = 2,
            ApplicationName = "releasekit",
        };
        var builder = new NpgsqlDataSourceBuilder(settings.ConnectionString);
        builder.UseNodaTime();

        return builder.Build();
    }

    private static void Configure(StoreOptions options)
    {
        options.DatabaseSchemaName = SchemaName;
        StoredJson.Use(options);
        options.DisableNpgsqlLogging = true;

        options.Events.StreamIdentity = StreamIdentity.AsGuid;
        options.Events.TenancyStyle = TenancyStyle.Conjoined;
        options.Events.MetadataConfig.HeadersEnabled = true;
        options.Policies.AllDocumentsAreMultiTenanted();
        EventNames.Map(options.Events);

        // What search finds is written along with the documents.
        options.Events.EnableSideEffectsOnInlineProjections = true;
        options.Projections.Add<ReleaseProjection>(ProjectionLifecycle.Inline);
        options.Projections.Add<SeriesProjection>(ProjectionLifecycle.Inline);
        options.Projections.Add<ProjectProjection>(ProjectionLifecycle.Inline);

        MapDocuments(options);
        MapEntries(options);
        MapTables(options);
    }

    private static void MapDocuments(StoreOptions options)
    {
        options.Schema.For<Release>()
            .Duplicate(release => release.Series)
            .Duplicate(release => release.Slot!)
            .Duplicate(release => release.PublishedAt!)
            .Duplicate(release => release.State)
            .Duplicate(release => release.Trace);
        options.Schema.For<Project>()
            .Duplicate(project => project.State)
            .Duplicate(project => project.StartedAt!);
        options.Schema.For<StagePlanVersions>().Identity(plan => plan.Id);
        options.Schema.For<Publisher>().SingleTenanted();
        options.Schema.For<DemoMark>().SingleTenanted();
        options.Schema.For<AccessToken>().SingleTenanted().Duplicate(token => token.Publisher);
        options.Schema.For<Feed>().SingleTenanted().Duplicate(feed => feed.Publisher);
        options.Schema.For<KeptForecast>()
            .Duplicate(forecast => forecast.Series)
            .Duplicate(forecast => forecast.Day)
            .Duplicate(forecast => forecast.SlotAt);
        options.Schema.For<ImportRun>().Duplicate(run => run.State);
    }

    private static void MapEntries(StoreOptions options)
    {
        Entries<Idea>(options).Duplicate(idea => idea.Release!);
        Entries<Note>(options);
        Entries<Want>(options);
        Entries<PlannedTask>(options)
            .Duplicate(task => task.When.First)
            .Duplicate(task => task.LastDay)
            .Duplicate(task => task.Recurrence!);
        Entries<Appointment>(options).Duplicate(appointment => appointment.Date);
        options.Schema.For<Recurrence>().UseOptimisticConcurrency(true);
    }

    private static void MapTables(StoreOptions options)
    {
        options.Storage.ExtendedSchemaObjects.Add(IdempotencyKeys.Table(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(SessionKeys.Table(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(JobRuns.Table(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(CalendarTables.ObjectsTable(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(CalendarTables.CollectionsTable(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(StagedRows.Table(SchemaName));
        options.Storage.ExtendedSchemaObjects.AddRange(SearchTables.Extensions.Select(name => new Extension(name)));
        options.Storage.ExtendedSchemaObjects.Add(SearchTables.EntriesTable(SchemaName));
        options.Storage.ExtendedSchemaObjects.Add(SearchTables.WordsTable(SchemaName));
    }

    /// <summary>Two who change the same entry at once: the second decides anew on what the first left.</summary>
    private static MartenRegistry.DocumentMappingExpression<TEntry> Entries<TEntry>(StoreOptions options)
        where TEntry : Entry => options.Schema.For<TEntry>()
        .UseOptimisticConcurrency(true)
        .Duplicate(entry => entry.RemovedAt!);
}
