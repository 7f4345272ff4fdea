namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Finds the components in content lines: one VCALENDAR, every BEGIN with its END, within limits.</summary>
internal sealed class TextParts
{
    private const int DeepestNesting = 4;
    private const int MostComponents = 5_000;

    private readonly Stack<OpenPart> _open = new();
    private int _count;

    private TextParts()
    {
    }

    /// <exception cref="BodyRefusedException">They are no single calendar, or too deep, or too many.</exception>
    public static TextPart Read(IReadOnlyList<CalendarLine> lines)
    {
        var parts = new TextParts();
        TextPart? calendar = null;
        foreach (var line in lines)
        {
            calendar = calendar is null ? parts.Take(line) : throw Superfluous(line);
        }

        return calendar ?? throw Malformed(
            lines.Count == 0 ? "The body is empty." : $"{parts._open.Peek().Name} does not end.");
    }

    /// <summary>The calendar when this line ends it.</summary>
    private TextPart? Take(CalendarLine line)
    {
        switch (line.Name)
        {
            case "BEGIN":
                Begin(line.Value.Trim().ToUpperInvariant(), line);
                return null;
            case "END":
                return End(line.Value.Trim().ToUpperInvariant());
            case var _ when _open.Count == 0:
                throw Malformed("The body does not start with BEGIN:VCALENDAR.");
            default:
                _open.Peek().Properties.Add(line);
                return null;
        }
    }

    private void Begin(string name, CalendarLine line)
    {
        if (_open.Count == 0 != (name == "VCALENDAR"))
        {
            throw Malformed("A body is one VCALENDAR with all else in it.");
        }

        if (_open.Count == DeepestNesting)
        {
            throw Malformed($"Components are nested more than {DeepestNesting} deep.");
        }

        if (++_count > MostComponents)
        {
            throw new BodyRefusedException(BodyFault.TooLarge($"There are more than {MostComponents} components."));
        }

        _open.Push(new(name, line));
    }

    private TextPart? End(string name)
    {
        if (!_open.TryPop(out var ended) || ended.Name != name)
        {
            throw Malformed($"END:{BodyRefusedException.Shortened(name)} has no BEGIN.");
        }

        var part = new TextPart(ended.Name, ended.Begin, ended.Properties, ended.Parts);
        if (_open.TryPeek(out var parent))
        {
            parent.Parts.Add(part);
            return null;
        }

        return part;
    }

    private static BodyRefusedException Superfluous(CalendarLine line) => line is { Name: "BEGIN" }
        ? new(BodyFault.NoSingleObject("There is more than one VCALENDAR."))
        : Malformed("There is something behind the end of the VCALENDAR.");

    private static BodyRefusedException Malformed(string detail) => new(BodyFault.Malformed(detail));

    private sealed record OpenPart(string Name, CalendarLine Begin)
    {
        public List<CalendarLine> Properties { get; } = [];

        public List<TextPart> Parts { get; } = [];
    }
}
