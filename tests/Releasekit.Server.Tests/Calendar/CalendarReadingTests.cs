using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.Calendar;

/// <summary>What two readers that are not ours make of a calendar.</summary>
public class CalendarReadingTests
{
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
    private static readonly Instant Changed = Instant.FromUtc(2026, 3, 2, 12, 0, 5);

    private static readonly CalendarHead Head = new("Mudflat Weekly")
    {
        Description = "Slots, stages; and tasks",
        ZoneId = "Europe/Lisbon",
        Color = "teal",
        Source = new("https://releasekit.example/feeds/k7?kind=all,slots"),
        RefreshInterval = Duration.FromHours(1),
        Uid = "feed-1@releasekit.example",
        ChangedAt = Changed,
    };

    private static readonly EventEntry[] Events =
    [
        new("slot-12", Changed, "No. 12: Çamarões à maré baixa 🦐, part 1; \"raw\"", Moment(2026, 3, 5, 7))
        {
            Sequence = 3,
            CreatedAt = Instant.FromUtc(2026, 1, 1, 9, 0),
            Description = "Outline\nField recording\n\nBEGIN:VEVENT\nEND:VCALENDAR " + new string('潮', 60),
            Url = new("https://releasekit.example/releases/12?tab=a,b;c"),
            Status = EventStatus.Tentative,
            IsTransparent = true,
            Categories = ["Slot", "Mudflat Weekly"],
            Color = "darkcyan",
            Alarms = [new("alarm-1", Duration.FromMinutes(30), "No. 12 goes out")],
        },
        new("appointment-1", Changed, "Boat hire", Moment(2026, 3, 29, 0)) { End = Moment(2026, 3, 29, 3) },
        new("appointment-2", Changed, "Call", new CalendarMoment(Instant.FromUtc(2026, 6, 1, 15, 0)))
        {
            Status = EventStatus.Cancelled,
        },
        new("day-off", Changed, "Day off", new CalendarDay(new(2026, 2, 28)))
        {
            End = new CalendarDay(new(2026, 3, 2)),
        },
        new("one-day", Changed, "", new CalendarDay(new(2026, 12, 31))),
    ];

    private static readonly TodoEntry[] Todos =
    [
        new("stage-1", Changed, "Rough cut: No. 12")
        {
            Sequence = 7,
            Due = Moment(2026, 7, 1, 18),
            Start = Moment(2026, 6, 30, 9),
            Status = TodoStatus.InProcess,
            PercentComplete = 40,
            Priority = 1,
            RelatedTo = "slot-12",
            Categories = ["Stage"],
            Alarms = [new("alarm-2", Duration.FromHours(2), "Cut")],
        },
        new("stage-2", Changed, "Final mix: No. 12")
        {
            Due = new CalendarMoment(Instant.FromUtc(2026, 3, 3, 18, 0)),
            Status = TodoStatus.Completed,
            CompletedAt = Instant.FromUtc(2026, 3, 3, 11, 0),
        },
        new("tax", Changed, "Quarterly tax") { Due = new CalendarDay(new(2026, 4, 15)), Start = Moment(2026, 4, 1, 9) },
        new("someday", Changed, "Reader letter") { Alarms = [new("alarm-3", Duration.FromHours(2), "Letter")] },
    ];

    private static readonly byte[] Written = CalendarWriter.Write(Head, [.. Events, .. Todos]);

    private static readonly ParsedCalendar Parsed = ParsedCalendar.Read(Written);

    [Fact]
    public void The_head_is_read_back()
    {
        var calendar = Parsed.Calendar;
        Assert.Equal(
            ("2.0", "GREGORIAN", Head.Name, Head.Name, Head.Description),
            (calendar.Text("VERSION"), calendar.Text("CALSCALE"), calendar.Text("NAME"), calendar.Text("X-WR-CALNAME"),
                calendar.Text("DESCRIPTION")));
        Assert.Equal(
            ("Europe/Lisbon", "teal", Head.Source!.AbsoluteUri, "PT1H", "PT1H", Head.Uid),
            (calendar.Text("X-WR-TIMEZONE"), calendar.Text("COLOR"), calendar.Text("SOURCE"),
                calendar.Text("REFRESH-INTERVAL"), calendar.Text("X-PUBLISHED-TTL"), calendar.Text("UID")));
        Assert.Equal(Changed, calendar.At("LAST-MODIFIED"));
        Assert.Null(calendar.Property("METHOD"));
        Assert.Equal("Europe/Lisbon", Assert.Single(Parsed.Zones).Text("TZID"));
    }

    [Fact]
    public void Every_event_is_read_back_entry_by_entry()
    {
        Assert.Equal(Events.Length, Parsed.Events.Count);
        Assert.All(Events.Zip(Parsed.Events), pair =>
        {
            var (entry, read) = pair;
            SharedPropertiesAgree(entry, read);
            TimesAgree(entry.Start, read, "DTSTART");
            Assert.Equal(entry.Status.ToString().ToUpperInvariant(), read.Text("STATUS"));
            Assert.Equal(entry.IsTransparent ? "TRANSPARENT" : "OPAQUE", read.Text("TRANSP"));
        });
        Assert.Equal(
            ["2026-03-05T07:15:00Z", "2026-03-29T02:00:00Z", "2026-06-01T15:15:00Z", "2026-03-02", "2027-01-01"],
            Parsed.Events.Select(read => read.Text("DTEND")));
        var alarm = Assert.Single(Parsed.Events[0].Children("VALARM"));
        Assert.Equal(("-1800", "DISPLAY", "alarm-1"), (alarm.Text("TRIGGER"), alarm.Text("ACTION"), alarm.Uid));
    }

    [Fact]
    public void Every_todo_is_read_back_entry_by_entry()
    {
        Assert.Equal(Todos.Length, Parsed.Todos.Count);
        Assert.All(Todos.Zip(Parsed.Todos), pair =>
        {
            var (entry, read) = pair;
            SharedPropertiesAgree(entry, read);
            TimesAgree(entry.Due, read, "DUE");
            Assert.Equal(entry.RelatedTo, read.Text("RELATED-TO"));
            Assert.Equal(entry.Priority, read.Number("PRIORITY"));
        });
        Assert.Equal(
            [("IN-PROCESS", 40), ("COMPLETED", 100), ("NEEDS-ACTION", null), ("NEEDS-ACTION", null)],
            Parsed.Todos.Select(read => (read.Text("STATUS")!, read.Number("PERCENT-COMPLETE"))));
        Assert.Equal(
            [null, Todos[1].CompletedAt, null, null], Parsed.Todos.Select(read => read.At("COMPLETED")));
        Assert.Equal(
            [Instant.FromUtc(2026, 6, 30, 8, 0), null, null, null], Parsed.Todos.Select(read => read.At("DTSTART")));
        Assert.Equal([1, 0, 0, 0], Parsed.Todos.Select(read => read.Children("VALARM").Count));
        Assert.Equal("END", Parsed.Todos[0].Children("VALARM")[0].Property("TRIGGER")!.Params["RELATED"]);
    }

    [Fact]
    public void The_library_of_the_domain_reads_the_same_events_and_todos()
    {
        var calendar = Ical.Net.Calendar.Load(System.Text.Encoding.UTF8.GetString(Written))!;

        Assert.Equal(Events.Select(entry => entry.Summary), calendar.Events.Select(read => read.Summary ?? ""));
        Assert.Equal(Events[0].Description, calendar.Events.First().Description);
        Assert.Equal(Todos.Select(entry => entry.Uid), calendar.Todos.Select(read => read.Uid));
        Assert.Equal("Europe/Lisbon", Assert.Single(calendar.TimeZones).TzId);
        Assert.Equal(
            new DateTime(2026, 3, 29, 2, 0, 0, DateTimeKind.Utc), calendar.Events.ElementAt(1).DtEnd!.AsUtc);
    }

    private static CalendarMoment Moment(int year, int month, int day, int hour) =>
        new(new LocalDateTime(year, month, day, hour, 0).InZoneStrictly(Lisbon).ToInstant(), Lisbon);

    private static void SharedPropertiesAgree(CalendarEntry entry, ParsedComponent read)
    {
        Assert.Equal(
            (entry.Uid, entry.Summary, entry.Description, entry.Sequence, entry.Url?.AbsoluteUri, entry.Color),
            (read.Uid, read.Text("SUMMARY"), read.Text("DESCRIPTION"), read.Number("SEQUENCE"), read.Text("URL"),
                read.Text("COLOR")));
        Assert.Equal(
            (entry.ChangedAt, entry.ChangedAt, entry.CreatedAt),
            (read.At("DTSTAMP"), read.At("LAST-MODIFIED"), read.At("CREATED")));
        Assert.Equal(entry.Categories, read.Categories);
    }

    private static void TimesAgree(CalendarTime? time, ParsedComponent read, string name)
    {
        Assert.Equal((time as CalendarDay)?.On, time is CalendarDay ? read.On(name) : null);
        Assert.Equal((time as CalendarMoment)?.At, time is CalendarMoment ? read.At(name) : null);
    }
}
