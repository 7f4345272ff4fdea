using Releasekit.Domain.Releases;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>Which column of a file tells what: by its name, or by <c>map=</c>.</summary>
internal sealed class ImportColumns
{
    private const int MostColumns = 200;

    private readonly Dictionary<string, int> _byFact;
    private readonly string[] _header;

    private ImportColumns(Dictionary<string, int> byFact, string[] header) => (_byFact, _header) = (byFact, header);

    /// <summary>How many there are.</summary>
    public int Count => _header.Length;

    /// <summary>Columns that tell nothing here, in the order of the file.</summary>
    public IReadOnlyList<string> Ignored =>
        [.. Enumerable.Range(0, Count).Where(i => !_byFact.ContainsValue(i)).Select(NameOf)];

    /// <summary>The name in the file's first line, shortened where it is long.</summary>
    public string NameOf(int column) => ColumnFaults.Shown(_header[column]);

    /// <summary>
    /// The column that tells a fact, such as <c>title</c> or <c>edit.completed</c>; null when none does.
    /// </summary>
    public int? Find(string fact) => _byFact.TryGetValue(fact, out var column) ? column : null;

    /// <summary>
    /// Reads the header line against the plan's stages; a problem names what does not fit. A fact is told by one
    /// column: another that tells it, by its name or by <paramref name="map"/>, has to be ignored explicitly.
    /// </summary>
    /// <param name="map">Comma-separated <c>fact:column</c>, e.g.
    /// <c>edit.completed:last_edit_at,title:name</c>.</param>
    /// <param name="ignore">Comma-separated columns to skip.</param>
    public static ImportColumns? Read(
        string[] header, StagePlan plan, string? map, string? ignore, out Problem? problem)
    {
        var faults = new ColumnFaults();
        var byFact = new Dictionary<string, int>();

        if (header.Length > MostColumns)
        {
            faults.Add("header", $"The file has {header.Length} columns; {MostColumns} at most.");
        }
        else
        {
            var skipped = Split(ignore).ToHashSet();
            CheckHeader(header, skipped, faults);
            Map(map, header, skipped, plan, byFact, faults);
            FindByName(header, skipped, plan, byFact, faults);
        }

        if (!faults.Any && !byFact.Keys.Any(ImportFacts.TellsOfARelease))
        {
            faults.Add("header", Unrecognised(header));
        }

        problem = faults.ToProblem();
        return new ImportColumns(byFact, header);
    }

    private static void CheckHeader(string[] header, HashSet<string> skipped, ColumnFaults faults)
    {
        foreach (var twice in header.GroupBy(name => name).Where(group => group.Count() > 1))
        {
            faults.Add("header", $"The column '{ColumnFaults.Shown(twice.Key)}' stands {twice.Count()} times; "
                + "every name may stand once.");
        }

        foreach (var unknown in skipped.Except(header))
        {
            faults.Add(
                "ignore",
                $"There is no column '{ColumnFaults.Shown(unknown)}' to ignore; the file has "
                + $"{ColumnFaults.Listed(header)}.");
        }
    }

    private static void Map(
        string? map, string[] header, HashSet<string> skipped, StagePlan plan, Dictionary<string, int> byFact,
        ColumnFaults faults)
    {
        foreach (var part in Split(map))
        {
            if (part.Split(':', 2) is not [var fact, var column])
            {
                faults.Add("map", $"'{ColumnFaults.Shown(part)}' is no mapping; "
                    + "write fact:column, such as edit.completed:last_edit_at.");
            }
            else if (ImportFacts.Known(fact, plan) is not { } known)
            {
                faults.Add("map", $"'{ColumnFaults.Shown(fact)}' is nothing that can be told; "
                    + $"known are {ImportFacts.AllOf(plan)}.");
            }
            else if (Array.IndexOf(header, column) is var index && index < 0)
            {
                faults.Add("map", $"There is no column '{ColumnFaults.Shown(column)}'; the file has "
                    + $"{ColumnFaults.Listed(header)}.");
            }
            else if (skipped.Contains(column))
            {
                faults.Add("map", $"'{ColumnFaults.Shown(column)}' is mapped and ignored; leave one of the two out.");
            }
            else if (!byFact.TryAdd(known, index))
            {
                faults.Add("map", $"'{fact}' is mapped twice.");
            }
        }
    }

    private static void FindByName(
        string[] header, HashSet<string> skipped, StagePlan plan, Dictionary<string, int> byFact, ColumnFaults faults)
    {
        var mapped = byFact.Values.ToHashSet();

        for (var i = 0; i < header.Length; i++)
        {
            if (!skipped.Contains(header[i]) && !mapped.Contains(i)
                && ImportFacts.OfColumn(header[i], plan) is { } fact
                && !byFact.TryAdd(fact, i) && header[byFact[fact]] != header[i])
            {
                faults.Add(
                    "header",
                    $"'{ColumnFaults.Shown(header[byFact[fact]])}' and '{ColumnFaults.Shown(header[i])}' both tell "
                    + $"{fact}; put one of them into ignore=.");
            }
        }
    }

    private static string Unrecognised(string[] header) =>
        header is [var only] && only.Contains(';', StringComparison.Ordinal)
        ? ColumnFaults.Semicolons
        : $"No column tells of a release; the file has {ColumnFaults.Listed(header)}. "
            + "Name them title, slot_date, published_at, "
            + "<stage>_completed_at, or say in map= what they are.";

    private static string[] Split(string? list) =>
        (list ?? string.Empty).Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
