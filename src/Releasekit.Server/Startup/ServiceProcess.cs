using Releasekit.Server.Cluster;
using Releasekit.Server.Http;
using Releasekit.Server.Search;
using Releasekit.Server.Store;

namespace Releasekit.Server.Startup;

/// <summary>The service from start to stop: database first, then the web host, each refusal in one sentence.</summary>
internal static class ServiceProcess
{
    public static async Task<int> Run(string[] args)
    {
        if (args is ["--help" or "-h", ..])
        {
            Console.WriteLine(ServiceSettings.Help);
            return 0;
        }

        using var stopping = new StopSignals();

        try
        {
            var settings = ServiceSettings.Read(args);
            Listening.RefuseIfTaken(settings.Urls);

            if (settings.Database is { } named)
            {
                await FirstStart.CheckDatabase(named, stopping.Token);
            }

            await using var cluster = settings.Database is null
                ? await PrivateCluster.StartAsync(settings.DataFolder, null, Console.Error.WriteLine, stopping.Token)
                : null;
            using var folder = cluster?.Folder ?? DataFolder.Open(settings.DataFolder);

            var database = settings.Database ?? cluster!.ConnectionString;
            await FirstStart.CheckExtensions(database, SearchTables.Extensions, stopping.Token);

            return await Serve(settings, database, folder, cluster, stopping);
        }
        catch (StartRefusal refusal)
        {
            await Console.Error.WriteLineAsync(refusal.Message);
            return 1;
        }
        catch (OperationCanceledException) when (stopping.Token.IsCancellationRequested)
        {
            return 0;
        }
    }

    private static async Task<int> Serve(
        ServiceSettings settings, string database, DataFolder folder, PrivateCluster? cluster, StopSignals stopping)
    {
        await using var app = WebService.Build(settings, database);

        if (settings.IsRebuild)
        {
            var (events, took) = await app.Services.GetRequiredService<Rebuild>().Run(stopping.Token);
            Console.WriteLine(FormattableString.Invariant(
                $"rebuilt from {events} events in {took.TotalSeconds:0.0} s"));
        }

        var readiness = app.Services.GetRequiredService<Readiness>();
        readiness.WaitsFor = "The first start is being prepared.";
        await app.StartAsync(stopping.Token);
        var welcome = await FirstStart.Prepare(app, settings, folder, stopping.Token);
        readiness.WaitsFor = null;
        welcome.Say();

        var itself = EndOf(app);
        await Task.WhenAny(stopping.Asked, cluster?.Ended ?? itself, itself);
        var reason = stopping.Token.IsCancellationRequested ? null
            : cluster is { Ended.IsCompleted: true } ? await cluster.Ended
            : await itself;
        await app.StopAsync();

        if (reason is not null)
        {
            await Console.Error.WriteLineAsync(reason);
            return 1;
        }

        return 0;
    }

    /// <summary>Completes when the host stops unasked, as it does when some work behind the requests fails.</summary>
    private static Task<string> EndOf(WebApplication app)
    {
        var end = new TaskCompletionSource<string>(TaskCreationOptions.RunContinuationsAsynchronously);
        app.Lifetime.ApplicationStopping.Register(() => end.TrySetResult(
            "The service stopped as its work behind the requests failed; the log above says why: start it again."));
        return end.Task;
    }
}
