using Releasekit.Server.Cluster;
using Releasekit.Server.Search;
using Releasekit.Server.Startup;

namespace Releasekit.Server.Tests.Startup;

/// <summary>What a database must have before the service starts on it.</summary>
public sealed class FirstStartTests(Service service)
{
    [Fact]
    public async Task A_server_with_its_contributed_modules_is_fine() =>
        await FirstStart.CheckExtensions(service.Database!, SearchTables.Extensions, CancellationToken.None);

    [Fact]
    public async Task A_missing_module_is_named_with_what_to_install()
    {
        var refusal = await Assert.ThrowsAsync<StartRefusal>(() =>
            FirstStart.CheckExtensions(service.Database!, ["pg_trgm", "no_such_module"], CancellationToken.None));

        Assert.Contains("no_such_module", refusal.Message);
        Assert.DoesNotContain("pg_trgm", refusal.Message);
        Assert.Contains("postgresql-contrib", refusal.Message);
    }
}
