using System.Text.RegularExpressions;

namespace Releasekit.Architecture.Tests;

/// <summary>A C# file of ours.</summary>
/// <param name="Path">From the root, with slashes, e.g. <c>src/Releasekit.Domain/Decision.cs</c>.</param>
internal sealed record Source(string Path, IReadOnlyList<string> Lines)
{
    /// <summary>The file's name without its ending.</summary>
    public string Name => System.IO.Path.GetFileNameWithoutExtension(Path);

    /// <summary>The folder's own name.</summary>
    public string Folder => System.IO.Path.GetFileName(System.IO.Path.GetDirectoryName(Path)!);

    /// <summary>All of it.</summary>
    public string Text => string.Join('\n', Lines);

    /// <summary>An offence, as a person finds it.</summary>
    /// <param name="line">Counts from 1.</param>
    public string At(int line, string offence) => $"{Path}:{line}: {offence}";
}

/// <summary>Reads what is in the tree, built things left out.</summary>
internal static partial class Sources
{
    public static string Root { get; } = FindRoot();

    /// <summary>Every C# file under <c>src</c> and <c>tests</c>.</summary>
    public static IReadOnlyList<Source> All { get; } = [.. Files("*.cs").Select(Read)];

    /// <summary>Those below a folder, such as <c>src/Releasekit.Domain</c>.</summary>
    public static IEnumerable<Source> Below(string folder) =>
        All.Where(source => source.Path.StartsWith($"{folder}/", StringComparison.Ordinal));

    /// <summary>Every offence of every file, with the line on which <paramref name="offence"/> finds one.</summary>
    public static IEnumerable<string> Offences(Func<string, string?> offence) =>
        from source in All
        from line in source.Lines.Select((text, i) => (Offence: offence(text), Number: i + 1))
        where line.Offence is not null
        select source.At(line.Number, line.Offence);

    /// <summary>The paths of files of a kind under <c>src</c> and <c>tests</c>.</summary>
    public static IEnumerable<string> Files(string pattern) => new[] { "src", "tests" }
        .SelectMany(
            folder => Directory.EnumerateFiles(Path.Combine(Root, folder), pattern, SearchOption.AllDirectories))
        .Where(path => !Built().IsMatch(path))
        .Order(StringComparer.Ordinal);

    private static Source Read(string path) =>
        new(Path.GetRelativePath(Root, path).Replace('\\', '/'), File.ReadAllLines(path));

    private static string FindRoot()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);

        while (!File.Exists(Path.Combine(folder.FullName, "Releasekit.sln")))
        {
            folder = folder.Parent ?? throw new InvalidOperationException("These tests run inside the source tree.");
        }

        return folder.FullName;
    }

    [GeneratedRegex(@"[\\/](obj|bin|node_modules)[\\/]")]
    private static partial Regex Built();
}
