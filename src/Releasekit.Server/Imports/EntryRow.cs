using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Server.Http;

namespace Releasekit.Server.Imports;

/// <summary>Which column of a file tells which member of an entry, and what its rows tell.</summary>
internal sealed class EntryRowReader<TValues>
    where TValues : class
{
    private const int MostColumns = 200;

    /// <summary>What reading puts where bytes are no UTF-8.</summary>
    private const char NoCharacter = '\uFFFD';

    private readonly EntryColumn?[] _columns;
    private readonly string[] _header;

    private EntryRowReader(string[] header, EntryColumn?[] columns) => (_header, _columns) = (header, columns);

    /// <summary>Columns that tell nothing here.</summary>
    public IReadOnlyList<string> Ignored =>
        [.. _header.Where((_, i) => _columns[i] is null).Select(ColumnFaults.Shown)];

    /// <param name="map">Comma-separated <c>member:column</c>, e.g. <c>text:Thought</c>.</param>
    /// <param name="ignore">Comma-separated columns to skip.</param>
    public static EntryRowReader<TValues> Read(string[] header, string? map, string? ignore, out Problem? problem)
    {
        var faults = new ColumnFaults();
        var all = EntryColumns<TValues>.Only.All;
        var columns = new EntryColumn?[header.Length];
        var skipped = Split(ignore).ToHashSet();

        if (header.Length > MostColumns)
        {
            faults.Add("header", $"The file has {header.Length} columns; {MostColumns} at most.");
        }
        else
        {
            Map(map, header, all, columns, faults);

            for (var i = 0; i < header.Length; i++)
            {
                columns[i] ??= skipped.Contains(header[i]) ? null : Named(all, header[i]);
            }

            CheckOnce(header, columns, faults);
        }

        if (!faults.Any && columns.All(column => column is null))
        {
            faults.Add("header", header is [var only] && only.Contains(';', StringComparison.Ordinal)
                ? ColumnFaults.Semicolons
                : $"No column is known here; the file has {ColumnFaults.Listed(header)}. Known are "
                + $"{string.Join(", ", all.Select(column => column.Name))}; or say in map= what yours are.");
        }

        problem = faults.ToProblem();
        return new(header, columns);
    }

    /// <summary>Spreadsheets like capitals.</summary>
    private static EntryColumn? Named(IReadOnlyList<EntryColumn> all, string name) =>
        all.FirstOrDefault(column => column.Name.Equals(name, StringComparison.OrdinalIgnoreCase));

    /// <summary>What a row tells; null when something is wrong with it.</summary>
    public TValues? Read(string[] fields, int line, List<RowError> errors)
    {
        if (fields.Length != _header.Length)
        {
            errors.Add(new(line, null, $"The row has {fields.Length} fields, the header {_header.Length}."));
            return null;
        }

        var json = new JsonObject();
        var before = errors.Count;

        for (var i = 0; i < fields.Length; i++)
        {
            if (fields[i].Contains(NoCharacter, StringComparison.Ordinal))
            {
                errors.Add(new(
                    line, ColumnFaults.Shown(_header[i]),
                    $"'{ColumnFaults.Shown(fields[i])}' is not UTF-8; save the file as UTF-8."));
            }
            else if (_columns[i] is { } column && fields[i].Length > 0 && column.Read(fields[i], json) is { } fault)
            {
                errors.Add(new(line, ColumnFaults.Shown(_header[i]), fault));
            }
        }

        errors.AddRange(EntryColumns<TValues>.Only.All
            .Where(column => column.IsNeeded && errors.Count == before && !json.ContainsKey(column.Path[0]))
            .Select(column => new RowError(line, NameOf(column), "A value is needed here.")));

        return errors.Count > before ? null : Whole(json, line, errors);
    }

    /// <summary>What the file calls a column; the name it has here where the file has none.</summary>
    public string NameOf(EntryColumn column) =>
        Array.IndexOf(_columns, column) is >= 0 and var i ? ColumnFaults.Shown(_header[i]) : column.Name;

    private static TValues? Whole(JsonObject json, int line, List<RowError> errors)
    {
        try
        {
            return json.Deserialize<TValues>(ApiJson.Options);
        }
        catch (JsonException e)
        {
            errors.Add(new(line, null, MalformedJson.Problem(e).Detail));
            return null;
        }
    }

    private static void Map(
        string? map, string[] header, IReadOnlyList<EntryColumn> all, EntryColumn?[] columns, ColumnFaults faults)
    {
        foreach (var part in Split(map))
        {
            if (part.Split(':', 2) is not [var name, var column])
            {
                faults.Add(
                    "map", $"'{ColumnFaults.Shown(part)}' is no mapping; write member:column, such as text:Thought.");
            }
            else if (all.FirstOrDefault(one => one.Name == name) is not { } known)
            {
                faults.Add("map", $"'{ColumnFaults.Shown(name)}' is nothing that can be told; known are "
                    + $"{string.Join(", ", all.Select(one => one.Name))}.");
            }
            else if (Array.IndexOf(header, column) is var index && index < 0)
            {
                faults.Add("map", $"There is no column '{ColumnFaults.Shown(column)}'; the file has "
                    + $"{ColumnFaults.Listed(header)}.");
            }
            else
            {
                columns[index] = known;
            }
        }
    }

    private static void CheckOnce(string[] header, EntryColumn?[] columns, ColumnFaults faults)
    {
        var twice = columns.Select((column, i) => (column, header[i])).Where(pair => pair.column is not null)
            .GroupBy(pair => pair.column!.Name).Where(group => group.Count() > 1);

        foreach (var group in twice)
        {
            faults.Add("header", $"{string.Join(" and ", group.Select(pair => $"'{ColumnFaults.Shown(pair.Item2)}'"))} "
                + $"tell {group.Key}; put all but one into ignore=.");
        }
    }

    private static string[] Split(string? list) =>
        (list ?? string.Empty).Split(',', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
}
