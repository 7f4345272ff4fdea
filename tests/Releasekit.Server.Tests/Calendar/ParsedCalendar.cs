using System.Diagnostics;
using System.Text.Json;

namespace Releasekit.Server.Tests.Calendar;

/// <summary>
/// A calendar as a reader that is not ours sees it (Debian's python3-icalendar, through read_calendar.py). Times
/// are in UTC, told by the calendar's own VTIMEZONEs. That reader unescapes some texts wrongly (a backslash before n,
/// "%2C"): keep them out of what is compared here.
/// </summary>
/// <param name="Calendar">The VCALENDAR.</param>
/// <param name="Offsets">By TZID: the UTC offset in seconds at each of the instants asked for, in their order.</param>
internal sealed record ParsedCalendar(
    ParsedComponent Calendar, IReadOnlyDictionary<string, IReadOnlyList<int>> Offsets)
{
    private const string Python = "/usr/bin/python3";

    public IReadOnlyList<ParsedComponent> Events => Calendar.Children("VEVENT");

    public IReadOnlyList<ParsedComponent> Todos => Calendar.Children("VTODO");

    public IReadOnlyList<ParsedComponent> Zones => Calendar.Children("VTIMEZONE");

    public static ParsedCalendar Read(byte[] calendar, params IEnumerable<Instant> instants)
    {
        var folder = Directory.CreateTempSubdirectory("calendar");
        try
        {
            var calendarPath = Path.Combine(folder.FullName, "calendar.ics");
            var instantsPath = Path.Combine(folder.FullName, "instants.json");
            File.WriteAllBytes(calendarPath, calendar);
            File.WriteAllText(instantsPath, JsonSerializer.Serialize(instants.Select(at => at.ToUnixTimeSeconds())));
            var script = Path.Combine(AppContext.BaseDirectory, "Calendar", "read_calendar.py");
            var json = Run(script, calendarPath, instantsPath);
            return JsonSerializer.Deserialize<ParsedCalendar>(json, JsonSerializerOptions.Web)!;
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    private static string Run(params string[] arguments)
    {
        Assert.True(
            File.Exists(Python) && Execute("-c", "import icalendar").ExitCode == 0,
            $"{Python} with icalendar is missing; ops/test installs it (Debian package python3-icalendar).");
        var (exitCode, answer, complaint) = Execute(arguments);
        Assert.True(exitCode == 0, $"The independent reader refused the calendar: {complaint}");
        return answer;
    }

    private static (int ExitCode, string Answer, string Complaint) Execute(params string[] arguments)
    {
        using var process = Process.Start(new ProcessStartInfo(Python, arguments)
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        })!;
        var complaint = process.StandardError.ReadToEndAsync();
        var answer = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, answer, complaint.Result);
    }
}

/// <summary>A component with its properties in no promised order.</summary>
internal sealed record ParsedComponent(
    string Name, IReadOnlyList<ParsedProperty> Properties, IReadOnlyList<ParsedComponent> Components)
{
    public string Uid => Text("UID")!;

    /// <summary>A comma inside a category cannot be told from one between two.</summary>
    public IReadOnlyList<string> Categories => Text("CATEGORIES")?.Split(',') ?? [];

    /// <summary>The only such property's value as text; null when there is none.</summary>
    public string? Text(string name) => Property(name)?.Value;

    public ParsedProperty? Property(string name) => Properties.SingleOrDefault(property => property.Name == name);

    /// <summary>A DATE-TIME; null when there is none.</summary>
    public Instant? At(string name) =>
        Text(name) is { } text ? NodaTime.Text.InstantPattern.General.Parse(text).Value : null;

    /// <summary>A DATE; null when there is none.</summary>
    public LocalDate? On(string name) =>
        Text(name) is { } text ? NodaTime.Text.LocalDatePattern.Iso.Parse(text).Value : null;

    public int? Number(string name) =>
        Text(name) is { } text ? int.Parse(text, System.Globalization.CultureInfo.InvariantCulture) : null;

    public IReadOnlyList<ParsedComponent> Children(string name) =>
        [.. Components.Where(component => component.Name == name)];
}

/// <summary>Durations have their seconds as value.</summary>
internal sealed record ParsedProperty(string Name, string Value, IReadOnlyDictionary<string, string> Params);
