using Releasekit.Domain.Releases;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>Which column of a file tells what: by its name, or by <c>map=</c>.</summary>
internal sealed class ImportColumns
{
    private const int MostColumns = 200;
    private static readonly string[] Plain = ["title", "slot_date", "published_at", "external_id"];
    private static readonly string[] Parts = ["started", "completed"];

    private readonly Dictionary<string, int> _byFact;

    private ImportColumns(Dictionary<string, int> byFact, string[] header, IReadOnlyList<string> ignored) =>
        (_byFact, Header, Ignored) = (byFact, header, ignored);

    /// <summary>The names in the file's first line.</summary>
    public IReadOnlyList<string> Header { get; }

    /// <summary>Columns that tell nothing here, in the order of the file.</summary>
    public IReadOnlyList<string> Ignored { get; }

    /// <summary>What the file calls the column that tells a fact; null when none does.</summary>
    public string? NameOf(string fact) => Find(fact) is { } column ? Header[column] : null;

    /// <summary>
    /// The column that tells a fact, such as <c>title</c> or <c>edit.completed</c>; null when none does.
    /// </summary>
    public int? Find(string fact) => _byFact.TryGetValue(fact, out var column) ? column : null;

    /// <summary>
    /// Reads the header line against the plan's stages; a problem names everything that does not fit.
    /// </summary>
    /// <param name="map">Comma-separated <c>fact:column</c>, e.g.
    /// <c>edit.completed:last_edit_at,title:name</c>.</param>
    /// <param name="ignore">Comma-separated columns to skip.</param>
    public static ImportColumns? Read(
        string[] header, StagePlan plan, string? map, string? ignore, out Problem? problem)
    {
        var errors = new List<ProblemError>();
        var skipped = Split(ignore).ToHashSet();
        var byFact = new Dictionary<string, int>();

        CheckHeader(header, skipped, errors);
        Map(map, header, plan, byFact, errors);

        for (var i = 0; i < header.Length; i++)
        {
            if (!skipped.Contains(header[i]) && !byFact.ContainsValue(i) && FactOf(header[i], plan) is { } fact)
            {
                byFact.TryAdd(fact, i);
            }
        }

        if (errors.Count == 0
            && !byFact.Keys.Any(fact => fact.EndsWith(".completed", StringComparison.Ordinal) || Plain.Contains(fact)))
        {
            errors.Add(new("header", Unrecognised(header)));
        }

        problem = errors.Count == 0
            ? null
            : Problems.Of("import.columns", string.Join(" ", errors.Select(error => error.Detail)), errors);

        return new ImportColumns(byFact, header, [.. header.Where((_, i) => !byFact.ContainsValue(i))]);
    }

    private static void CheckHeader(string[] header, HashSet<string> skipped, List<ProblemError> errors)
    {
        if (header.Length > MostColumns)
        {
            errors.Add(new("header", $"The file has {header.Length} columns; {MostColumns} at most."));
        }

        foreach (var twice in header.GroupBy(name => name).Where(group => group.Count() > 1))
        {
            errors.Add(
                new("header", $"The column '{twice.Key}' stands {twice.Count()} times; every name may stand once."));
        }

        foreach (var unknown in skipped.Except(header))
        {
            errors.Add(
                new("ignore", $"There is no column '{unknown}' to ignore; the file has {string.Join(", ", header)}."));
        }
    }

    private static void Map(
        string? map, string[] header, StagePlan plan, Dictionary<string, int> byFact, List<ProblemError> errors)
    {
        foreach (var part in Split(map))
        {
            if (part.Split(':', 2) is not [var fact, var column])
            {
                errors.Add(
                    new("map", $"'{part}' is no mapping; write fact:column, such as edit.completed:last_edit_at."));
            }
            else if (Known(fact, plan) is not { } known)
            {
                errors.Add(
                    new("map", $"'{fact}' is nothing that can be told; known are {string.Join(", ", Plain)} and "
                    + $"with .started or .completed a stage of '{plan.Id}' ({KeysOf(plan)})."));
            }
            else if (Array.IndexOf(header, column) is var index && index < 0)
            {
                errors.Add(new("map", $"There is no column '{column}'; the file has {string.Join(", ", header)}."));
            }
            else if (!byFact.TryAdd(known, index))
            {
                errors.Add(new("map", $"'{fact}' is mapped twice."));
            }
        }
    }

    /// <summary>The publication has two names: its stage's completion, and <c>published_at</c>.</summary>
    private static string? Known(string fact, StagePlan plan)
    {
        if (fact == "published_at")
        {
            return $"{plan.Publication.Key}.completed";
        }

        var isStage = fact.Split('.') is [var stage, var part]
            && Parts.Contains(part)
            && plan.Stages.Any(s => s.Key == stage);
        return isStage || Plain.Contains(fact) ? fact : null;
    }

    private static string? FactOf(string column, StagePlan plan)
    {
        foreach (var part in Parts)
        {
            if (column.EndsWith($"_{part}_at", StringComparison.Ordinal)
                && plan.Stages.FirstOrDefault(stage => column == $"{stage.Key}_{part}_at"
                    || column == $"{stage.Key.Replace('-', '_')}_{part}_at") is { } stage)
            {
                return $"{stage.Key}.{part}";
            }
        }

        return Plain.Contains(column) ? Known(column, plan) : null;
    }

    private static string Unrecognised(string[] header) =>
        header is [var only] && only.Contains(';', StringComparison.Ordinal)
        ? "The columns are separated by semicolons; RFC 4180 separates them by commas. Save the file with commas."
        : $"No column tells of a release; the file has {string.Join(", ", header)}. "
            + "Name them title, slot_date, published_at, "
            + "<stage>_completed_at, or say in map= what they are.";

    private static string KeysOf(StagePlan plan) => string.Join(", ", plan.Stages.Select(stage => stage.Key));

    private static string[] Split(string? list) =>
        (list ?? string.Empty).Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
