using Releasekit.Server.Cluster;

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

            return await Serve(settings, settings.Database ?? cluster!.ConnectionString, folder, cluster, stopping);
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
        await app.StartAsync(stopping.Token);
        var welcome = await FirstStart.Prepare(app, settings, folder, stopping.Token);
        welcome.Say();

        var ended = cluster?.Ended
            ?? Task.Delay(Timeout.Infinite, stopping.Token).ContinueWith(_ => string.Empty, TaskScheduler.Default);
        var first = await Task.WhenAny(stopping.Asked, ended);
        await app.StopAsync();

        if (first == ended && !stopping.Token.IsCancellationRequested)
        {
            await Console.Error.WriteLineAsync(await ended);
            return 1;
        }

        return 0;
    }
}
