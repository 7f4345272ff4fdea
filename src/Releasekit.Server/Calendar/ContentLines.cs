using System.Buffers;
using System.Globalization;
using System.Text;

namespace Releasekit.Server.Calendar;

/// <summary>
/// Writes the content lines of RFC 5545, 3.1 as UTF-8: CRLF at the end, folded so that no physical line exceeds 75
/// octets, never inside a character. A property is <see cref="Name"/>, any <see cref="Param"/>s, then exactly one
/// value, which ends the line. Whatever a text contains, it stays inside its value:
/// <code>
/// CR, LF, CRLF, NEL, U+2028, U+2029   \n in a value, ^n in a parameter: Unicode ends a line at each
/// other controls but the tab          dropped, as are U+FFFE and U+FFFF: XML, so CalDAV, cannot carry them
/// half a surrogate pair               U+FFFD
/// </code>
/// </summary>
internal sealed class ContentLines(IBufferWriter<byte> output)
{
    private const int MaxOctets = 75;

    private readonly byte[] _line = new byte[MaxOctets + 2];
    private int _length;

    public void Begin(string component) => Name("BEGIN").Token(component);

    public void End(string component) => Name("END").Token(component);

    public ContentLines Name(string name)
    {
        PutAscii(name);
        return this;
    }

    /// <summary>Quoted where it holds a colon, semicolon or comma; carets and quotes encoded by RFC 6868.</summary>
    public ContentLines Param(string name, string value)
    {
        Put(';');
        PutAscii(name);
        Put('=');
        var isQuoted = value.AsSpan().ContainsAny(':', ';', ',');
        if (isQuoted)
        {
            Put('"');
        }

        PutEscaped(value, isParameter: true);
        if (isQuoted)
        {
            Put('"');
        }

        return this;
    }

    /// <summary>A TEXT value, escaped (RFC 5545, 3.3.11).</summary>
    public void Text(string value)
    {
        Put(':');
        PutEscaped(value, isParameter: false);
        EndLine();
    }

    /// <summary>A whole TEXT property, or nothing when there is no text.</summary>
    public void Text(string name, string? value)
    {
        if (!string.IsNullOrEmpty(value))
        {
            Name(name).Text(value);
        }
    }

    /// <summary>A whole property of several TEXT values in the order given, or nothing when there are none.</summary>
    public void Texts(string name, IReadOnlyList<string> values)
    {
        if (values.Count == 0)
        {
            return;
        }

        Name(name);
        for (var i = 0; i < values.Count; i++)
        {
            Put(i == 0 ? ':' : ',');
            PutEscaped(values[i], isParameter: false);
        }

        EndLine();
    }

    /// <summary>A value that is ASCII by its type: a number, a time, a word of the standard.</summary>
    public void Token(ReadOnlySpan<char> value)
    {
        Put(':');
        PutAscii(value);
        EndLine();
    }

    public void Number(string name, int value) =>
        Name(name).Token(value.ToString(CultureInfo.InvariantCulture));

    /// <summary>A URI is not escaped (RFC 5545, 3.3.13); it must be absolute.</summary>
    public void Uri(Uri value)
    {
        Put(':');
        foreach (var rune in value.AbsoluteUri.EnumerateRunes())
        {
            PutRune(rune);
        }

        EndLine();
    }

    /// <summary>A whole line that is content already, every character of it.</summary>
    public void Whole(string line)
    {
        foreach (var rune in line.EnumerateRunes())
        {
            FoldUnlessFits(rune.Utf8SequenceLength);
            _length += rune.EncodeToUtf8(_line.AsSpan(_length));
        }

        EndLine();
    }

    private void PutEscaped(string text, bool isParameter)
    {
        var isAfterReturn = false;
        foreach (var rune in text.EnumerateRunes())
        {
            var character = rune.Value;
            switch (character)
            {
                case '\n' when isAfterReturn:
                    break;
                case '\n' or '\r' or 0x85 or 0x2028 or 0x2029:
                    PutPair(isParameter ? '^' : '\\', 'n');
                    break;
                case '^' or '"' when isParameter:
                    PutPair('^', character == '"' ? '\'' : '^');
                    break;
                case '\\' or ';' or ',' when !isParameter:
                    PutPair('\\', (char)character);
                    break;
                default:
                    PutRune(rune);
                    break;
            }

            isAfterReturn = character == '\r';
        }
    }

    private void PutRune(Rune rune)
    {
        if ((Rune.IsControl(rune) && rune.Value != '\t') || rune.Value is 0xFFFE or 0xFFFF)
        {
            return;
        }

        FoldUnlessFits(rune.Utf8SequenceLength);
        _length += rune.EncodeToUtf8(_line.AsSpan(_length));
    }

    // Folding between the two would be legal; keeping them together asks less of a reader.
    private void PutPair(char first, char second)
    {
        FoldUnlessFits(2);
        Put(first);
        Put(second);
    }

    private void PutAscii(ReadOnlySpan<char> text)
    {
        foreach (var character in text)
        {
            Put(character);
        }
    }

    private void Put(char ascii)
    {
        FoldUnlessFits(1);
        _line[_length++] = (byte)ascii;
    }

    private void FoldUnlessFits(int octets)
    {
        if (_length + octets > MaxOctets)
        {
            EndLine();
            _line[_length++] = (byte)' ';
        }
    }

    private void EndLine()
    {
        _line[_length++] = (byte)'\r';
        _line[_length++] = (byte)'\n';
        output.Write(_line.AsSpan(0, _length));
        _length = 0;
    }
}
