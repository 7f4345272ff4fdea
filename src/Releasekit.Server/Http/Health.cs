using Npgsql;
using Releasekit.Server.Access;

namespace Releasekit.Server.Http;

/// <summary>
/// GET /health/live and /health/ready: whether the process runs, and whether it has started and its database answers.
/// </summary>
internal static class Health
{
    public static void MapHealth(this IEndpointRouteBuilder routes)
    {
        var health = routes.MapGroup("/health").WithTags("Service").NeedsNoToken();

        health.MapGet("/live", () => (Answer<HealthBody>)new HealthBody("pass"))
            .WithName("getLiveness")
            .WithSummary("Whether the process runs")
            .WithDescription("Asks nothing else.");
        health.MapGet("/ready", Ready)
            .WithName("getReadiness")
            .WithSummary("Whether the service can work")
            .WithDescription(
                "Asks the database; 503 when it does not answer, and while the start is not finished, such as while "
                + "the demo is being filled.");
    }

    private static async Task<Answer<HealthBody>> Ready(
        NpgsqlDataSource database, Readiness readiness, CancellationToken cancel)
    {
        if (readiness.WaitsFor is { } reason)
        {
            return Problems.Of("starting", reason);
        }

        try
        {
            await using var ask = database.CreateCommand("select 1");
            await ask.ExecuteScalarAsync(cancel);
            return new HealthBody("pass");
        }
        catch (NpgsqlException)
        {
            return Problems.Of("unavailable", "The database does not answer.");
        }
    }
}

/// <param name="Status">pass.</param>
internal sealed record HealthBody(string Status);
