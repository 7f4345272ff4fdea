using System.Globalization;
using System.Text;
using CsvHelper;
using CsvHelper.Configuration;

namespace Releasekit.Server.Imports;

/// <summary>
/// Reads a CSV file (RFC 4180, UTF-8 with or without byte order mark) row by row, never holding more than one.
/// </summary>
internal sealed class CsvRows : IDisposable
{
    private const int LongestField = 10_000;

    private readonly CsvParser _parser;
    private string? _bad;

    /// <param name="longestField">In characters.</param>
    public CsvRows(Stream file, int longestField = LongestField)
    {
        // A reader whose encoding has a mark takes it off the front; looking for marks of other encodings is left out.
        var reader = new StreamReader(
            file, new UTF8Encoding(encoderShouldEmitUTF8Identifier: true), detectEncodingFromByteOrderMarks: false);
        _parser = new CsvParser(reader, new CsvConfiguration(CultureInfo.InvariantCulture)
        {
            Delimiter = ",",
            Mode = CsvMode.RFC4180,
            IgnoreBlankLines = true,
            MaxFieldSize = longestField,
            BadDataFound = bad =>
                _bad =
                    "A quotation mark stands where none belongs; a field with quotes is quoted as a whole, "
                    + "quotes in it doubled.",
        });
    }

    /// <summary>The next row. After a fault reading cannot go on.</summary>
    public async Task<CsvRow> Next()
    {
        var line = _parser.RawRow + 1;

        try
        {
            var isRow = await _parser.ReadAsync();
            return new(line, isRow ? _parser.Record : null, _bad);
        }
        catch (MaxFieldSizeException)
        {
            var longest = _parser.Configuration.MaxFieldSize;
            return new(line, null, $"A field is longer than {longest:0} characters; is a quotation mark left open?");
        }
        catch (CsvHelperException)
        {
            return new(line, null, "The row cannot be read as CSV (RFC 4180).");
        }
    }

    public void Dispose() => _parser.Dispose();
}

/// <summary>What was read of a row.</summary>
/// <param name="Line">Where it begins; the first line of the file is 1.</param>
/// <param name="Fields">Null at the end of the file, and with some faults.</param>
/// <param name="Fault">Why it cannot be read; null when it can.</param>
internal readonly record struct CsvRow(int Line, string[]? Fields, string? Fault);
