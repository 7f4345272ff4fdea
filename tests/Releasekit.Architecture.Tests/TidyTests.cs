using System.Text.RegularExpressions;

namespace Releasekit.Architecture.Tests;

/// <summary>What every source looks like; an offence is told as <c>file:line: offence</c>.</summary>
public sealed partial class TidyTests
{
    private const int LongestLine = 120;
    private const int LongestFile = 250;
    private const int LongestMethod = 40;
    private const int MostPragmas = 5;

    private static readonly string[] VagueEndings =
    [
        "Manager", "Helper", "Helpers", "Util", "Utils", "Impl", "Base", "Dto", "Info", "Data", "Processor",
    ];

    [Fact]
    public void No_file_is_too_long() => Offences.None(Sources.All
        .Where(source => source.Lines.Count > LongestFile)
        .Select(source => source.At(LongestFile + 1, $"{source.Lines.Count} lines")));

    [Fact]
    public void No_line_is_too_long() => Offences.None(Sources.Offences(line =>
        line.Length > LongestLine ? $"{line.Length} characters" : null));

    [Fact]
    public void No_method_is_too_long() => Offences.None(Sources.All.SelectMany(source => Methods.Of(source)
        .Where(method => method.Lines > LongestMethod)
        .Select(method => source.At(method.FirstLine, $"{method.Name} has {method.Lines} lines"))));

    [Fact]
    public void Nothing_is_folded_away_or_left_for_later() => Offences.None(Sources.Offences(line =>
        Leftover().Match(line) is { Success: true } found ? found.Value : null));

    [Fact]
    public void Few_warnings_are_silenced() =>
        Assert.InRange(Sources.Offences(line => Pragma().IsMatch(line) ? line : null).Count(), 0, MostPragmas);

    [Fact]
    public void Names_say_what_a_thing_is() => Offences.None(Sources.Offences(line =>
        Declaration().Match(line).Groups["name"].Value is var name && IsVague(name) ? $"'{name}' is vague" : null));

    [Fact]
    public void A_folder_never_bears_the_name_of_a_type_in_it() => Offences.None(Sources.All
        .SelectMany(source => source.Lines
            .Select((line, i) => (Type: Declaration().Match(line).Groups["name"].Value, Line: i + 1))
            .Where(type => type.Type == source.Folder)
            .Select(type => source.At(type.Line, $"the folder is called '{type.Type}' too"))));

    [Fact]
    public void Nothing_names_a_machine() => Offences.None(new[] { "*.cs", "*.csproj", "*.props", "*.json" }
        .SelectMany(Sources.Files)
        .SelectMany(path => File.ReadLines(path)
            .Select((line, i) => (Found: Machine().Match(line), Line: i + 1))
            .Where(line => line.Found.Success)
            .Select(line => $"{Path.GetRelativePath(Sources.Root, path)}:{line.Line}: {line.Found.Value}")));

    [Fact]
    public void These_tests_can_fail()
    {
        Assert.True(Sources.All.Count > 100);
        Assert.Contains(Sources.All, source => source.Path == "src/Releasekit.Domain/Decision.cs");
        Assert.All(VagueEndings, ending => Assert.True(IsVague($"Stage{ending}")));
        Assert.Equal("SlotData", Declaration().Match("    public sealed record SlotData(int A);").Groups["name"].Value);
        Assert.Matches(Leftover(), $"    #{"region"} Old");
        Assert.Matches(Machine(), $"/{"home"}/somebody/x");
        Assert.Contains(Methods.Of(new("a.cs", ["    void Tide()", "    {", "        Ebb();", "    }"])), method =>
            method is { Name: "Tide", Lines: 4, FirstLine: 1 });
    }

    private static bool IsVague(string name) =>
        VagueEndings.Any(ending => name.EndsWith(ending, StringComparison.Ordinal));

    [GeneratedRegex(@"^\s*#(?:end)?region|//.*\b(?:TO[D]O|FIXM[E]|HAC[K]|XX[X])\b")]
    private static partial Regex Leftover();

    [GeneratedRegex(@"^\s*#pragma warning disable")]
    private static partial Regex Pragma();

    [GeneratedRegex(
        @"^\s*(?:(?:public|internal|private|protected|file|static|sealed|abstract|partial|readonly|ref)\s+)*"
        + @"(?:class|record struct|record class|record|struct|interface|enum)\s+(?<name>\w+)")]
    private static partial Regex Declaration();

    [GeneratedRegex(@"/[h]ome/\w|/[U]sers/\w|/[r]oot/|/[w]ork/\w|[A-Z]:\\\\?Users")]
    private static partial Regex Machine();
}
