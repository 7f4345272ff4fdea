using Releasekit.Client;
using Releasekit.Server.Clock;
using Releasekit.Server.Cluster;

namespace Releasekit.Server.Startup;

/// <summary>
/// What the service was started with: flags, environment (<c>Section__Key</c>), in that order of weight.
/// </summary>
/// <param name="IsRebuild">Whether all that is read is made anew from the events before anything is served.</param>
/// <param name="Database">A connection string to an existing server; null for a private cluster.</param>
/// <param name="Flags">All of them, as the host reads them.</param>
internal sealed record ServiceSettings(
    string DataFolder, string Urls, bool IsDemo, bool IsRebuild, string? Database, ClockOptions Clock, string[] Flags)
{
    private const string UsualUrls = "http://127.0.0.1:8480";

    /// <summary>What the flags do; printed by <c>--help</c>.</summary>
    public const string Help = $"""
        ops/run [--data DIR] [--urls {UsualUrls}] [--demo] [--rebuild]

        --data DIR   where everything is kept; made where it is missing
        --urls URL   where the service answers
        --demo       fills an empty folder with an invented publisher, and serves it
        --rebuild    makes all that is read anew from the events first, which are never changed

        ConnectionStrings__Postgres   uses that PostgreSQL (13 or newer) instead of a private one
        PGBIN                         the folder of PostgreSQL's programs, where they are not found
        Clock__Start, Clock__Rate     another clock, for rehearsals on loopback addresses
        """;

    /// <exception cref="StartRefusal">A flag is unknown, or a setting has a value that cannot be read.</exception>
    public static ServiceSettings Read(string[] args)
    {
        var flags = Spelled(args);
        var configuration = new ConfigurationBuilder().AddEnvironmentVariables().AddCommandLine(flags).Build();
        var isDemo = configuration["demo"] == "true";
        var urls = configuration["urls"] ?? Environment.GetEnvironmentVariable("ASPNETCORE_URLS") ?? UsualUrls;

        return new(
            Cluster.DataFolder.Resolve(configuration["data"] ?? Cluster.DataFolder.Default(isDemo)),
            urls,
            isDemo,
            configuration["rebuild"] == "true",
            configuration["ConnectionStrings:Postgres"],
            ClockOf(configuration, urls),
            flags);
    }

    /// <summary>Every flag with its value, as the configuration wants it: <c>--demo</c> alone means true.</summary>
    private static string[] Spelled(string[] args)
    {
        var spelled = new List<string>();

        for (var i = 0; i < args.Length; i++)
        {
            var (name, value) = args[i].Split('=', 2) is [var left, var right] ? (left, right) : (args[i], null);

            switch (name)
            {
                case "--demo" or "--rebuild":
                    spelled.Add($"{name}=true");
                    break;
                case "--data" or "--urls":
                    value ??= ++i < args.Length
                        ? args[i] : throw new StartRefusal($"{name} needs a value, such as {Example(name)}.");
                    spelled.Add($"{name}={value}");
                    break;
                default:
                    throw new StartRefusal(
                        $"There is no flag '{args[i]}'; known are --data DIR, --urls {UsualUrls}, --demo "
                        + "and --rebuild.");
            }
        }

        return [.. spelled];
    }

    private static string Example(string flag) => flag is "--data" ? "--data ./data" : $"--urls {UsualUrls}";

    private static ClockOptions ClockOf(IConfiguration configuration, string urls)
    {
        var (start, rate) = (configuration["Clock:Start"], configuration["Clock:Rate"]);

        if (start is null && rate is null)
        {
            return new ClockOptions();
        }

        if (urls.Split(';').Any(url => !Uri.TryCreate(url, UriKind.Absolute, out var uri) || !uri.IsLoopback))
        {
            throw new StartRefusal(
                "Clock__Start and Clock__Rate are for rehearsals: they go with loopback addresses only.");
        }

        var parsed = start is null ? null : ApiPatterns.Instant.Parse(start);
        var isNumber = double.TryParse(rate ?? "1", System.Globalization.CultureInfo.InvariantCulture, out var number);

        if (parsed is { Success: false } || !isNumber || number is not (>= 0 and <= 1_000_000))
        {
            throw new StartRefusal(
                "Clock__Start takes an instant such as 2026-03-05T03:00:00Z, Clock__Rate a number such as 60.");
        }

        return new ClockOptions(parsed?.Value, number);
    }
}
