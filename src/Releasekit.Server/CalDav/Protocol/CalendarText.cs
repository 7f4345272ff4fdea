using System.Buffers;
using System.Text;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// A calendar as its content lines, so that single properties can be changed while all else stays as a client wrote it,
/// whether or not it is understood here. Only folding, line ends and empty lines are not kept. Unchanging: every change
/// is another text.
/// </summary>
internal sealed class CalendarText
{
    private readonly List<CalendarLine> _lines;

    private CalendarText(List<CalendarLine> lines)
    {
        _lines = lines;
        Calendar = TextParts.Read(lines);
        Main = MainOf(Calendar);
    }

    /// <summary>The VCALENDAR itself.</summary>
    public TextPart Calendar { get; }

    /// <summary>
    /// The VEVENT or VTODO that has no RECURRENCE-ID; the first of them when all have one; null when there is none.
    /// </summary>
    public TextPart? Main { get; }

    /// <summary>Reads a text; null and a fault when it is no calendar or beyond the limits.</summary>
    public static CalendarText? TryRead(string text, out BodyFault? fault)
    {
        try
        {
            fault = null;
            return new(UnfoldedLines.Read(text.StartsWith('\uFEFF') ? text[1..] : text));
        }
        catch (BodyRefusedException refused)
        {
            fault = refused.Fault;
            return null;
        }
    }

    /// <summary>
    /// Gives the main component this property, in the place of the first of its name; others of the name go.
    /// </summary>
    /// <param name="value">As it is written, with the escapes of its type.</param>
    /// <exception cref="ArgumentException">The parts make no single line.</exception>
    /// <exception cref="InvalidOperationException">There is no main component.</exception>
    public CalendarText Set(string name, string value, params (string Name, string Value)[] parameters)
    {
        var line = CalendarLine.Of(name, value, parameters);
        var place = Place(line.Name);
        var others = Others(line.Name);

        return new([.. _lines.Take(place), line, .. _lines.Skip(place).Where(one => !others.Contains(one))]);
    }

    /// <summary>Gives the main component this TEXT property (RFC 5545, 3.3.11), escaped here.</summary>
    /// <inheritdoc cref="Set"/>
    public CalendarText SetText(string name, string text) => Set(name, TextValues.Escape(text));

    /// <summary>Takes all properties of this name from the main component; the same text when it has none.</summary>
    /// <exception cref="InvalidOperationException">There is no main component.</exception>
    public CalendarText Remove(string name)
    {
        var others = Others(name.ToUpperInvariant());

        return others.Count == 0 ? this : new([.. _lines.Where(line => !others.Contains(line))]);
    }

    /// <summary>CRLF after every line, folded at 75 octets of UTF-8 between characters.</summary>
    public override string ToString()
    {
        var output = new ArrayBufferWriter<byte>();
        var lines = new ContentLines(output);
        foreach (var line in _lines)
        {
            lines.Whole(line.Text);
        }

        return Encoding.UTF8.GetString(output.WrittenSpan);
    }

    private HashSet<CalendarLine> Others(string name) => [.. MainOrNone().All(name)];

    private TextPart MainOrNone() =>
        Main ?? throw new InvalidOperationException("This calendar has neither a VEVENT nor a VTODO.");

    /// <summary>The index of the first property of a name; without one, behind the component's own last.</summary>
    private int Place(string name)
    {
        var main = MainOrNone();
        if (main.First(name) is { } first)
        {
            return _lines.IndexOf(first);
        }

        return main.Properties.Count > 0 ? _lines.IndexOf(main.Properties[^1]) + 1 : _lines.IndexOf(main.Begin) + 1;
    }

    private static TextPart? MainOf(TextPart calendar)
    {
        var candidates = calendar.Parts.Where(part => part.Name is "VEVENT" or "VTODO").ToList();

        return candidates.Find(part => part.First("RECURRENCE-ID") is null) ?? candidates.FirstOrDefault();
    }
}
