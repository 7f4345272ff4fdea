using System.Reflection;
using Releasekit.Domain;
using Releasekit.Server.Http;

namespace Releasekit.Architecture.Tests;

/// <summary>Who may use what, read off the compiled assemblies.</summary>
public sealed class DependencyTests
{
    private static readonly Assembly Trade = typeof(Refusal).Assembly;
    private static readonly Assembly Service = typeof(Problem).Assembly;

    private static readonly string[] PureLibraries =
    [
        "NodaTime", "Ical.Net", "MathNet.Numerics", "System.Runtime", "System.Collections",
        "System.Collections.Concurrent",
        "System.Collections.Immutable", "System.Linq", "System.Memory", "System.Numerics", "System.Runtime.Numerics",
        "System.Runtime.InteropServices", "System.Security.Cryptography", "System.Text.Encoding.Extensions",
        "System.Text.RegularExpressions", "System.Threading",
    ];

    /// <summary>What has no place in the trade: waiting, files, networks, clocks, chance.</summary>
    private static readonly string[] Impure =
    [
        "System.Threading.Tasks", "System.Threading.Thread", "System.Threading.Timer", "System.IO", "System.Net",
        "System.Console", "System.TimeProvider", "System.Random", "System.Guid.NewGuid", "System.Guid.CreateVersion7",
        "System.DateTime.get_Now", "System.DateTime.get_UtcNow", "System.DateTimeOffset.get_UtcNow",
        "NodaTime.SystemClock",
        "System.Diagnostics.Stopwatch", "System.Diagnostics.Process",
    ];

    /// <summary>Outside namespace, and the only folders or types of the server that may use it.</summary>
    private static readonly (string Outside, string[] MayUse)[] Doors =
    [
        ("Npgsql", ["Store", "Cluster", "Imports", "Search", "Http.Health", "Http.ErrorAnswers", "Startup"]),
        ("NpgsqlTypes", ["Store", "Imports", "Search"]),
        ("Weasel", ["Store", "Imports", "Search"]),
        ("Marten.Events", ["Store", "Imports"]),
        ("Marten.Patching", ["Store", "Access", "Feeds"]),
        ("JasperFx.Events.IPatchExpression", ["Store", "Access", "Feeds"]),
        ("JasperFx.Events", ["Store", "Imports", "Access", "Feeds", "Events"]),
        ("Ical.Net", ["CalDav.Protocol"]),
        ("Microsoft.AspNetCore.Components", ["Pages"]),
        ("Microsoft.AspNetCore.Antiforgery", ["Access", "Pages"]),
        ("Microsoft.AspNetCore.DataProtection", ["Access", "Pages", "Store"]),
        ("Quartz", ["Jobs"]),
        ("CsvHelper", ["Imports"]),
        ("Microsoft.OpenApi", ["Docs"]),
        ("Microsoft.AspNetCore.OpenApi", ["Docs"]),
        ("Microsoft.AspNetCore.Mvc.ApiExplorer", ["Docs"]),
        ("Microsoft.AspNetCore.Server.Kestrel", ["Startup"]),
        ("Fluid", ["Webhooks.Formats"]),
        ("System.Net.Http", ["Demo", "Docs.ContractFile", "Http.MediaTypes", "Webhooks.Sending"]),
        ("System.Net.Sockets", ["Cluster", "Http.ErrorAnswers", "Webhooks.Sending"]),
        ("System.Diagnostics.Process", ["Cluster"]),
        ("System.IO.File", ["Cluster", "Docs.ContractFile", "Startup", "Imports"]),
        ("System.Console", ["Startup", "Program", "Docs.ContractFile"]),
        ("NodaTime.SystemClock", []),
    ];

    [Fact]
    public void The_domain_references_only_libraries_of_pure_computation() =>
        Offences.None(Trade.GetReferencedAssemblies().Select(library => library.Name!).Except(PureLibraries));

    [Fact]
    public void The_domain_is_synchronous_and_reads_no_clock() => Offences.None(Strays(
        CompiledUses.Of(Trade), use => Impure.Any(name => IsWithin(use.Outside, name))));

    [Fact]
    public void Only_the_cadence_rule_knows_the_calendar_library() => Offences.None(Strays(
        CompiledUses.Of(Trade),
        use => IsWithin(use.Outside, "Ical.Net") && use.From != "Releasekit.Domain.Schedule.CadenceRule"));

    [Fact]
    public void Each_outside_library_has_its_own_door() => Offences.None(Strays(
        CompiledUses.Of(Service),
        use => IsWithin(use.From, "Releasekit") && Doors.Any(
            door => IsWithin(use.Outside, door.Outside) && !door.MayUse.Any(place => IsIn(use.From, place)))));

    [Fact]
    public void Events_are_appended_to_streams_that_were_fetched_or_started() => Offences.None(Strays(
        CompiledUses.Of(Service), use => IsAppend(use.Outside)));

    [Fact]
    public void These_tests_can_fail()
    {
        var trade = CompiledUses.Of(Trade);
        var service = CompiledUses.Of(Service);

        Assert.Contains(trade, use =>
            IsWithin(use.Outside, "Ical.Net") && use.From.EndsWith("CadenceRule", StringComparison.Ordinal));
        Assert.Contains(trade, use => use.Outside == "System.Threading.Monitor.Enter");
        Assert.Contains(service, use =>
            IsIn(use.From, "Store") && use.Outside.EndsWith(".FetchForWriting", StringComparison.Ordinal));
        Assert.Contains(service, use => IsIn(use.From, "Http.Health") && IsWithin(use.Outside, "Npgsql"));
        Assert.Contains(service, use => IsIn(use.From, "Store") && IsWithin(use.Outside, "System.Threading.Tasks"));
        Assert.True(IsAppend("Marten.Events.IEventStoreOperations.AppendOptimistic"));
    }

    private static bool IsAppend(string member) =>
        IsWithin(member, "Marten.Events.IEventStoreOperations")
            || IsWithin(member, "JasperFx.Events.IEventStoreOperations")
            ? member.Contains(".Append", StringComparison.Ordinal)
            : member.Contains("EventOperations.Append", StringComparison.Ordinal);

    private static IEnumerable<string> Strays(IEnumerable<Use> uses, Func<Use, bool> isStray) =>
        uses.Where(isStray).Select(use => use.ToString()).Order(StringComparer.Ordinal);

    private static bool IsWithin(string name, string outside) => name.StartsWith(outside, StringComparison.Ordinal)
        && (name.Length == outside.Length || name[outside.Length] is '.' or '`');

    private static bool IsIn(string type, string place) =>
        type == place || IsWithin(type, $"Releasekit.Server.{place}");
}
