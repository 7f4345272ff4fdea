using System.Text;
using Releasekit.Server.CalDav.Protocol;
using Releasekit.Server.Calendar;

namespace Releasekit.Server.Tests.CalDav.Protocol;

public class CalendarBodyTests
{
    private static readonly CalendarMoment Seven = new(Instant.FromUtc(2026, 3, 5, 7, 0));

    [Fact]
    public void An_event_says_all_that_it_was_given()
    {
        var body = Bodies.Read(Bodies.Event("""
            UID:slot-12
            SEQUENCE:4
            SUMMARY:No. 12\; low water
            DESCRIPTION:Outline\nField recording\, raw
            LOCATION:Jetty
            DTSTART:20260305T070000Z
            DTEND:20260305T080000Z
            STATUS:confirmed
            CLASS:PRIVATE
            TRANSP:TRANSPARENT
            PRIORITY:5
            CATEGORIES:Slot,Low\, water
            CATEGORIES:Mudflat
            RRULE:FREQ=WEEKLY;BYDAY=TH;UNTIL=20260601T070000Z
            EXDATE:20260312T070000Z,20260319T070000Z
            RDATE;VALUE=PERIOD:20260401T070000Z/PT1H
            """));

        Assert.Equal((ComponentKind.Event, "slot-12"), (body.Kind, body.Uid));
        Assert.Equal(("No. 12; low water", "Outline\nField recording, raw", "Jetty"),
            (body.Main.Summary, body.Main.Description, body.Main.Location));
        Assert.Equal((Seven, At(3, 5, 8), At(3, 5, 8)), (body.Main.Start, body.Main.End, body.Main.Finish));
        Assert.Equal(("CONFIRMED", "PRIVATE", "TRANSPARENT"), (body.Main.Status, body.Main.Class, body.Main.Transp));
        Assert.Equal((5, 4), (body.Main.Priority, body.Main.Sequence));
        Assert.Equal(["Slot", "Low, water", "Mudflat"], body.Main.Categories);
        Assert.Equal("FREQ=WEEKLY;BYDAY=TH;UNTIL=20260601T070000Z", body.Main.Rrule);
        Assert.Equal([At(3, 12, 7), At(3, 19, 7)], body.Main.Exdates);
        Assert.Equal([At(4, 1, 7)], body.Main.Rdates);
        Assert.Empty(body.Overrides);
    }

    [Fact]
    public void A_done_to_do_says_so_in_the_form_that_a_common_library_writes()
    {
        var body = Bodies.Read(
            Bodies.Todo($"{Bodies.Stage}\nSTATUS:COMPLETED\nCOMPLETED;VALUE=DATE-TIME:20260304T171500Z\n"
                + "PERCENT-COMPLETE:100\nDTSTART:20260304T170000Z"),
            ComponentKind.Todo);

        Assert.Equal(new CalendarMoment(Instant.FromUtc(2026, 3, 4, 17, 15)), body.Main.Completed);
        Assert.Equal((At(3, 4, 18), At(3, 4, 18), 100), (body.Main.Due, body.Main.Finish, body.Main.PercentComplete));
    }

    [Theory]
    [InlineData("DTSTART;VALUE=DATE:20260305", "2026-03-05", "2026-03-06")]
    [InlineData("DTSTART:20260305", "2026-03-05", "2026-03-06")]
    [InlineData("DTSTART;VALUE=DATE:20260305\nDURATION:P2W", "2026-03-05", "2026-03-19")]
    [InlineData("DTSTART:20260305T070000Z", "2026-03-05T07:00:00Z", "2026-03-05T07:00:00Z")]
    [InlineData("DTSTART:20260305T070060Z", "2026-03-05T07:00:59Z", "2026-03-05T07:00:59Z")]
    [InlineData("DTSTART:20260305T070000", "2026-03-05T07:00:00", "2026-03-05T07:00:00")]
    [InlineData("DTSTART:20260305T070000\nDURATION:PT90M", "2026-03-05T07:00:00", "2026-03-05T08:30:00")]
    // A night with a change of clocks: a day is one of the calendar, 24 hours are not (RFC 5545, 3.3.6).
    [InlineData(
        "DTSTART;TZID=Europe/Lisbon:20260328T120000\nDURATION:P1D", "2026-03-28T12:00:00Z", "2026-03-29T11:00:00Z")]
    [InlineData(
        "DTSTART;TZID=Europe/Lisbon:20260328T120000\nDURATION:PT24H", "2026-03-28T12:00:00Z", "2026-03-29T12:00:00Z")]
    public void A_time_is_a_day_a_moment_or_floating_and_its_end_follows(string start, string expected, string finish)
    {
        var main = Bodies.Read(Bodies.Event($"UID:a\n{start}")).Main;

        Assert.Equal((expected, finish), (Told(main.Start), Told(main.Finish)));
    }

    [Fact]
    public void A_floating_time_becomes_a_moment_in_the_zone_of_its_person()
    {
        var floating = (FloatingTime)Bodies.Read(Bodies.Event("UID:a\nDTSTART:20260705T070000")).Main.Start!;

        var moment = floating.In(DateTimeZoneProviders.Tzdb["Europe/Lisbon"]);

        Assert.Equal(Instant.FromUtc(2026, 7, 5, 6, 0), moment.At);
    }

    [Theory]
    [InlineData("text/calendar")]
    [InlineData("Text/Calendar;charset=\"UTF-8\"")]
    [InlineData("text/calendar; component=VTODO; charset=utf-8;")]
    [InlineData(null)]
    public void Every_way_of_naming_the_media_type_is_taken(string? contentType)
    {
        var body = CalendarBody.TryRead(
            Encoding.UTF8.GetBytes(Bodies.Todo(Bodies.Stage)), contentType, ComponentKind.Todo, out var fault);

        Assert.Null(fault);
        Assert.Equal("stage-1", body!.Uid);
    }

    [Fact]
    public void Line_ends_folds_marks_and_what_is_unknown_are_borne_and_kept()
    {
        var summary = $"SUMMARY:{new string('潮', 100)}";
        var text = Bodies.Event(
            $"{Bodies.Slot}\n{summary}\nX-MAKER-A;X-B=\"c\":d\nIMAGE;VALUE=URI:https://example.com/a.png\n"
            + "BEGIN:VALARM\nTRIGGER:-PT5M\nX-WR-ALARMUID:a\nEND:VALARM\nBEGIN:X-TIDE\nX-C:d\nEND:X-TIDE",
            Bodies.Part("X-TABLE", "X-E:f"));

        var plain = Bodies.Read(text);
        var odd = Bodies.Read($"\uFEFF{text.Replace("\r\n", "\n", StringComparison.Ordinal)}\n\n");

        Assert.Equal(text, plain.Raw);
        Assert.Equal(text.Replace("\r\n", "\n", StringComparison.Ordinal) + "\n\n", odd.Raw);
        Assert.Equal(plain.Text.ToString(), odd.Text.ToString());
        Assert.Equal(text, odd.Text.ToString().Replace("\r\n ", "", StringComparison.Ordinal));
    }

    [Fact]
    public void A_fold_inside_a_character_is_undone()
    {
        // RFC 5545, 3.1: "implementations need to unfold lines in such a way to properly restore the original".
        var bytes = Encoding.UTF8.GetBytes(Bodies.Event($"{Bodies.Slot}\nSUMMARY:潮 a"));
        var inside = bytes.AsSpan().IndexOf("潮"u8) + 1;

        var body = CalendarBody.TryRead(
            [.. bytes[..inside], .. "\r\n "u8, .. bytes[inside..]], "text/calendar", ComponentKind.Event, out _);

        Assert.Equal("潮 a", body!.Main.Summary);
    }

    [Fact]
    public void Overrides_stand_apart_from_the_component_they_vary()
    {
        var single = Bodies.Part("VEVENT", "UID:a\nRECURRENCE-ID:20260312T070000Z\nDTSTART:20260313T070000Z");

        var series = Bodies.Read(Bodies.Calendar(
            single, Bodies.Part("VEVENT", "UID:a\nDTSTART:20260305T070000Z\nRRULE:FREQ=WEEKLY")));
        var alone = Bodies.Read(Bodies.Calendar(single));

        Assert.Equal((Seven, null), (series.Main.Start, series.Main.RecurrenceId));
        Assert.Equal(At(3, 12, 7), Assert.Single(series.Overrides).RecurrenceId);
        Assert.Equal(At(3, 13, 7), alone.Main.Start);
        Assert.Empty(alone.Overrides);
    }

    private static CalendarMoment At(int month, int day, int hour) => new(Instant.FromUtc(2026, month, day, hour, 0));

    private static string Told(CalendarTime? time) => time switch
    {
        CalendarDay day => $"{day.On:uuuu-MM-dd}",
        CalendarMoment moment => $"{moment.At}",
        FloatingTime floating => $"{floating.Wall:uuuu-MM-ddTHH:mm:ss}",
        _ => "",
    };
}
