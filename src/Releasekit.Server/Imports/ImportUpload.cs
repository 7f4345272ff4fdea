using Npgsql;
using Releasekit.Domain.Releases;

namespace Releasekit.Server.Imports;

/// <summary>Reads a file into the staging table row by row, and collects what is wrong with the rest.</summary>
internal sealed class ImportUpload(CsvRows file, ImportedRow reader, StagePlan plan)
{
    private const int MostRows = 1_000_000;

    private readonly List<RowError> _errors = [];

    /// <summary>Rows read so far, header not counted.</summary>
    public int Rows { get; private set; }

    /// <summary>The first of the errors.</summary>
    public IReadOnlyList<RowError> Errors => _errors;

    /// <summary>All of them.</summary>
    public int ErrorCount { get; private set; }

    public async Task CopyTo(NpgsqlBinaryImporter copy, ImportRun run, CancellationToken cancel)
    {
        while (await Next() is { } row)
        {
            var found = new List<RowError>();

            if (reader.Read(row.Fields!, row.Line, found) is { } release)
            {
                var identity = ImportedRow.IdentityOf(release, plan.Publication.Key);
                await StagedRows.Write(copy, run.Id, run.Publisher, new(Rows, row.Line, release), identity, cancel);
            }

            Note(found);
        }
    }

    /// <summary>The next row that can be read; null at the end, and after one that cannot.</summary>
    private async Task<CsvRow?> Next()
    {
        var row = await file.Next();

        if (row.Fault is not null || (row.Fields is not null && Rows == MostRows))
        {
            Note([new(row.Line, null, row.Fault ?? $"The file has more than {MostRows} rows; split it.")]);
            return null;
        }

        Rows += row.Fields is null ? 0 : 1;
        return row.Fields is null ? null : row;
    }

    private void Note(List<RowError> found)
    {
        ErrorCount += found.Count;
        _errors.AddRange(found.Take(ImportRun.MostErrorsKept - _errors.Count));
    }
}
