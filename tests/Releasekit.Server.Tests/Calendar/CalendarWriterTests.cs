using System.Text;
using CsCheck;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.Calendar;

public class CalendarWriterTests
{
    private const string ToTheLetter =
        """
        BEGIN:VCALENDAR
        VERSION:2.0
        PRODID:-//Releasekit//Calendar//EN
        CALSCALE:GREGORIAN
        NAME:Mudflat Weekly
        X-WR-CALNAME:Mudflat Weekly
        X-WR-TIMEZONE:Europe/Lisbon
        REFRESH-INTERVAL;VALUE=DURATION:PT1H
        X-PUBLISHED-TTL:PT1H
        BEGIN:VTIMEZONE
        TZID:Europe/Lisbon
        BEGIN:STANDARD
        DTSTART:20251026T020000
        TZNAME:WET
        TZOFFSETFROM:+0100
        TZOFFSETTO:+0000
        END:STANDARD
        BEGIN:DAYLIGHT
        DTSTART:20260329T010000
        TZNAME:WEST
        TZOFFSETFROM:+0000
        TZOFFSETTO:+0100
        END:DAYLIGHT
        END:VTIMEZONE
        BEGIN:VEVENT
        UID:slot-2026-07-02@releasekit.example
        DTSTAMP:20260302T120000Z
        LAST-MODIFIED:20260302T120000Z
        SEQUENCE:1
        SUMMARY:Mudflat Weekly\, No. 29
        DESCRIPTION:Rough cut is next.\nThe bank holds 2.
        CATEGORIES:Slot
        DTSTART;TZID=Europe/Lisbon:20260702T070000
        DTEND;TZID=Europe/Lisbon:20260702T071500
        STATUS:CONFIRMED
        TRANSP:TRANSPARENT
        END:VEVENT
        BEGIN:VTODO
        UID:stage-rough-cut@releasekit.example
        DTSTAMP:20260302T120000Z
        LAST-MODIFIED:20260302T120000Z
        SEQUENCE:0
        SUMMARY:Rough cut: No. 29
        DUE:20260630T170000Z
        STATUS:NEEDS-ACTION
        END:VTODO
        END:VCALENDAR

        """;

    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];
    private static readonly Instant Changed = Instant.FromUtc(2026, 3, 2, 12, 0);
    private static readonly CalendarMoment Thursday = new(Instant.FromUtc(2026, 7, 2, 6, 0), Lisbon);

    [Fact]
    public void A_small_calendar_is_written_to_the_letter()
    {
        var slot = new EventEntry("slot-2026-07-02@releasekit.example", Changed, "Mudflat Weekly, No. 29", Thursday)
        {
            Sequence = 1,
            Description = "Rough cut is next.\nThe bank holds 2.",
            IsTransparent = true,
            Categories = ["Slot"],
        };
        var stage = new TodoEntry("stage-rough-cut@releasekit.example", Changed, "Rough cut: No. 29")
        {
            Due = new CalendarMoment(Instant.FromUtc(2026, 6, 30, 17, 0)),
        };

        var head = new CalendarHead("Mudflat Weekly")
        {
            ZoneId = "Europe/Lisbon",
            RefreshInterval = Duration.FromHours(1),
        };

        var text = Text(head, slot, stage);

        Assert.Equal(ToTheLetter, text.Replace("\r\n", "\n"));
        Assert.Equal(text.Count(c => c == '\n'), text.Split("\r\n").Length - 1);
    }

    [Fact]
    public void The_same_entries_give_the_same_bytes()
    {
        static byte[] Write() => CalendarWriter.Write(
            new("Mudflat Weekly") { ChangedAt = Changed },
            [.. Enumerable.Range(0, 50).Select(week => Thursday with { At = Thursday.At + Duration.FromDays(7 * week) })
                .Select(start => new EventEntry($"slot-{start.Wall:R}", Changed, "No. 12", start))]);

        Assert.Equal(Write(), Write());
    }

    [Fact]
    public void An_end_is_always_later_than_its_start_and_of_its_kind() =>
        Gen.Select(Times, Times).Sample((start, end) =>
        {
            var text = Text(new(), new EventEntry("slot", Changed, "No. 12", start) { End = end });

            var read = Ical.Net.Calendar.Load(text)!.Events.Single();
            Assert.Equal(read.DtStart!.HasTime, read.DtEnd!.HasTime);
            Assert.True(read.DtEnd.AsUtc > read.DtStart.AsUtc, text);
        });

    [Fact]
    public void A_start_that_is_not_before_the_due_time_or_of_another_kind_is_left_out() =>
        Gen.Select(Times, Times).Sample((start, due) =>
        {
            var text = Text(new(), new TodoEntry("stage", Changed, "Rough cut") { Start = start, Due = due });

            var todo = text[text.IndexOf("BEGIN:VTODO", StringComparison.Ordinal)..];
            Assert.Equal(due.IsAfter(start), todo.Contains("\r\nDTSTART", StringComparison.Ordinal));
        });

    [Fact]
    public void Entries_of_several_zones_bring_each_zone_once_and_first()
    {
        string[] ids = ["Europe/Lisbon", "Australia/Lord_Howe", "Europe/Lisbon", "Asia/Kolkata"];

        var text = Text(new(), [.. ids.Select((id, i) => new EventEntry(
            $"slot-{i}", Changed, id, Thursday with { Zone = DateTimeZoneProviders.Tzdb[id] }))]);

        Assert.Equal(
            ["TZID:Asia/Kolkata", "TZID:Australia/Lord_Howe", "TZID:Europe/Lisbon"],
            text.Split("\r\n").Where(line => line.StartsWith("TZID:", StringComparison.Ordinal)));
        Assert.True(
            text.LastIndexOf("VTIMEZONE", StringComparison.Ordinal) < text.IndexOf("VEVENT", StringComparison.Ordinal));
    }

    [Fact]
    public void A_colour_that_is_no_name_is_left_out() => Assert.DoesNotContain(
        "COLOR", Text(new("Mudflat Weekly") { Color = "#00808080" }), StringComparison.Ordinal);

    private static readonly Gen<CalendarTime> Times = Gen.Select(
        Gen.Int[0, 2], Gen.Int[-100, 100], (kind, step) => kind switch
        {
            0 => (CalendarTime)new CalendarDay(new LocalDate(2026, 3, 29).PlusDays(step)),
            1 => new CalendarMoment(Instant.FromUtc(2026, 3, 29, 1, 0) + Duration.FromMilliseconds(step * 400)),
            _ => new CalendarMoment(Instant.FromUtc(2026, 10, 25, 1, 0) + Duration.FromMinutes(step * 5), Lisbon),
        });

    private static string Text(CalendarHead head, params CalendarEntry[] entries) =>
        Encoding.UTF8.GetString(CalendarWriter.Write(head, entries));
}
