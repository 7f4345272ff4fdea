using System.Text.Json;
using System.Text.RegularExpressions;

namespace Releasekit.Domain.Tests.Statistics;

/// <summary>Every case of the check values is read by a test.</summary>
public sealed partial class BoundCasesTests
{
    [Fact]
    public void Every_case_is_bound_to_a_test()
    {
        var named = Sources().SelectMany(source => Named().Matches(source)).Select(id => id.Groups["id"].Value);
        var ids = named.ToHashSet();
        var prefixes = Sources().SelectMany(source => Rows().Matches(source))
            .Select(rows => rows.Groups["prefix"].Value).ToArray();

        var unbound = Cases().Where(id => !ids.Contains(id)
            && !prefixes.Any(prefix => id.StartsWith(prefix, StringComparison.Ordinal)));

        Assert.Equal(161, Cases().Count());
        Assert.Empty(unbound);
    }

    private static IEnumerable<string> Cases()
    {
        using var stream = File.OpenRead(CheckCase.PathOf("statistics.json"));
        return [.. JsonDocument.Parse(stream).RootElement.EnumerateArray().Select(one => one.Text("id"))];
    }

    private static IEnumerable<string> Sources()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder.FullName, "Releasekit.sln")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("These tests run inside the source tree.");
        }

        return Directory
            .EnumerateFiles(
                Path.Combine(folder.FullName, "tests", "Releasekit.Domain.Tests"), "*.cs", SearchOption.AllDirectories)
            .Select(File.ReadAllText);
    }

    [GeneratedRegex(@"""(?<id>[a-k]\.[\w.]+)""")]
    private static partial Regex Named();

    [GeneratedRegex(@"Rows\(""statistics\.json"", ""(?<prefix>[a-k]\.[\w.]*)""\)")]
    private static partial Regex Rows();
}
