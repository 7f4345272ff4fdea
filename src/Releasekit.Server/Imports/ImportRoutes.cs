using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Domain.Work;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Ideas;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Imports;

/// <summary>Every route of imports.</summary>
internal static class ImportRoutes
{
    public static void MapImports(this IEndpointRouteBuilder api)
    {
        var imports = api.MapGroup("/imports").WithTags("Imports");

        StartImport.Map(imports);
        GetImport.Map(imports);

        ExportEntries.Map<Idea, IdeaValues, IdeaBody, IdeaFilter>(api, new IdeaKind(), "Ideas");
        ExportEntries.Map<Note, NoteValues, NoteBody, NoteFilter>(api, new NoteKind(), "Notes");
        ExportEntries.Map<Want, WantValues, WantBody, WantFilter>(api, new WantKind(), "Wants");
        ExportEntries.Map<PlannedTask, TaskValues, TaskBody, TaskFilter>(api, new TaskKind(), "Tasks");
        ExportEntries.Map<Appointment, AppointmentValues, AppointmentBody, AppointmentFilter>(
            api, new AppointmentKind(), "Appointments");
    }

    public static IServiceCollection AddImports(this IServiceCollection services) => services
        .AddSingleton<ImportTurns>()
        .AddSingleton<ImportSteps>()
        .AddSingleton<ImportBatches>()
        .AddHostedService<ImportWorker>()
        .AddEntryImport(new IdeaKind())
        .AddEntryImport(new NoteKind())
        .AddEntryImport(new WantKind())
        .AddEntryImport(new TaskKind())
        .AddEntryImport(new AppointmentKind());

    private static IServiceCollection AddEntryImport<TEntry, TValues, TBody>(
        this IServiceCollection services, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged => services.AddSingleton<IEntryImport>(provider =>
            new EntryImport<TEntry, TValues, TBody>(
                kind, provider.GetRequiredService<Ledger>(), provider.GetRequiredService<ServiceClock>()));
}
