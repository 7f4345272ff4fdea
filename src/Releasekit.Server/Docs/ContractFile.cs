using System.Text;
using Microsoft.Extensions.DependencyInjection.Extensions;
using Releasekit.Server.Clock;
using Releasekit.Server.Startup;

namespace Releasekit.Server.Docs;

/// <summary>
/// Writes what the service serves as its contract into a file: the web server is started alone, without database or
/// data
/// folder, and asked. The build does this with every change (<c>dotnet Releasekit.Server.dll contract FILE</c>).
/// </summary>
internal static class ContractFile
{
    public const string Command = "contract";

    public static async Task<int> Write(string file)
    {
        var settings = new ServiceSettings(
            Path.GetTempPath(), "http://127.0.0.1:0", IsDemo: false, IsRebuild: false,
            "Host=none", new ClockOptions(), Flags: []);
        await using var app = WebService.Build(settings, "Host=none", WithoutWork);
        await app.StartAsync();

        using var http = new HttpClient { BaseAddress = new Uri(app.Urls.First()) };
        var served = Spelled(await http.GetStringAsync(new Uri($"/openapi/{Contract.Name}.json", UriKind.Relative)));
        await app.StopAsync();

        try
        {
            if (!File.Exists(file) || await File.ReadAllTextAsync(file) != served)
            {
                await File.WriteAllTextAsync(file, served, new UTF8Encoding(false));
            }

            return 0;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            await Console.Error.WriteLineAsync($"The contract was not written: {e.Message}");
            return 1;
        }
    }

    /// <summary>As it stands in the file: line feeds, one at the end.</summary>
    public static string Spelled(string served) => served.ReplaceLineEndings("\n").TrimEnd() + "\n";

    private static void WithoutWork(IServiceCollection services)
    {
        foreach (var work in services.Where(service => service.ServiceType == typeof(IHostedService)).ToArray())
        {
            if (work.ImplementationType?.Name != "GenericWebHostService")
            {
                services.Remove(work);
            }
        }

        services.RemoveAll<Imports.ImportWorker>();
        services.AddSingleton<Imports.ImportWorker>();
    }
}
