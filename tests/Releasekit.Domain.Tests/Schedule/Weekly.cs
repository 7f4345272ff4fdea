using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Tests.Schedule;

/// <summary>Mudflat Weekly as a series: Thursdays 07:00 in Lisbon, and what can have been decided about it.</summary>
internal static class Weekly
{
    public static readonly Guid Id = new("0197a5c0-0000-8000-8000-000000000001");
    public static readonly Guid Pause = new("0197a5c0-0000-7000-8000-000000000002");

    public static readonly LocalTime Seven = new(7, 0);
    public static readonly CadenceTerms Thursdays = new(
        "FREQ=WEEKLY;BYDAY=TH", new(2026, 1, 1), Seven, "Europe/Lisbon");

    public static readonly Instant OpenedAt = Instant.FromUtc(2026, 1, 1, 0, 0);
    public static readonly SeriesOpened Opened = new(Id, "mudflat-weekly", "Mudflat Weekly", "audio", new(), OpenedAt);
    public static readonly CadenceSet FirstRule = new(Thursdays, Thursdays.Start, OpenedAt);

    /// <summary>The slot most stories are about; in March Lisbon's clocks show UTC until the 29th.</summary>
    public static readonly LocalDate Twelfth = new(2026, 3, 12);

    public static readonly Instant SlotAt = Instant.FromUtc(2026, 3, 12, 7, 0);
    public static readonly Instant Before = SlotAt - Duration.FromDays(3);
    public static readonly Instant Later = SlotAt + Duration.FromHours(5);

    public static Series After(params IEnumerable<SeriesEvent> events) =>
        Story.OfSeries.Given([Opened, FirstRule, .. events]).State!;

    public static Story<Series, SeriesEvent> Given(params IEnumerable<SeriesEvent> events) =>
        Story.OfSeries.Given([Opened, FirstRule, .. events]);

    public static Slot Slot(Series series, LocalDate? date = null) => SlotCalendar.Find(series, date ?? Twelfth)!;

    public static BreakPlanned Break(LocalDate from, LocalDate to, Instant recordedAt) =>
        new(Pause, from, to, "low water", recordedAt);

    public static SlotMoved Moved(LocalDateTime to, Instant recordedAt) => new(Twelfth, to, recordedAt);

    public static LocalDate March(int day) => new(2026, 3, day);

    /// <summary>The slots of March as <c>day@hour</c> in UTC, an excused one in brackets.</summary>
    public static string InMarch(Series series) => string.Join(' ', SlotCalendar
        .Between(series, March(1), new LocalDate(2026, 4, 1))
        .Select(slot =>
        {
            var text = $"{slot.Date.Day}@{slot.PromisedAt.InUtc().Hour}";
            return slot.Excuse is null ? text : $"({text})";
        }));
}
