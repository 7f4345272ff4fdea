namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Clocks that are changed.</summary>
internal sealed record ZoneChange(Instant At, Offset From, Offset To);

/// <summary>When a STANDARD or DAYLIGHT part of a VTIMEZONE begins to hold, in every year that is served.</summary>
internal static class ZoneChanges
{
    private const int MostOfOnePart = 1_000;
    private const int FirstYear = WallTimes.FirstYear - 2;

    /// <exception cref="BodyRefusedException">It is none, or has a rule of more than a month a year.</exception>
    public static IEnumerable<ZoneChange> Of(TextPart part)
    {
        var from = WallTimes.ReadOffset(Required(part, "TZOFFSETFROM"));
        var to = WallTimes.ReadOffset(Required(part, "TZOFFSETTO"));
        var start = WallTimes.Read(Required(part, "DTSTART")).Wall;
        var onsets = part.All("RDATE")
            .SelectMany(line => line.Value.Split(','))
            .Select(value => WallTimes.Read(value.Split('/')[0]).Wall)
            .Prepend(start)
            .Concat(part.First("RRULE") is { } rule ? ByRule(rule.Value, start, from) : [])
            .Distinct()
            .Take(MostOfOnePart + 1)
            .ToList();

        return onsets.Count <= MostOfOnePart
            ? onsets.Select(onset => new ZoneChange(onset.WithOffset(from).ToInstant(), from, to))
            : throw new BodyRefusedException(BodyFault.TooMany("A VTIMEZONE changes its clocks too often."));
    }

    private static IEnumerable<LocalDateTime> ByRule(string text, LocalDateTime start, Offset from)
    {
        var rule = RecurrenceText.Read(text, areYearsBound: false);
        if (rule.Frequency != "YEARLY" || !IsOfOneMonth(rule))
        {
            throw new BodyRefusedException(BodyFault.Malformed("A VTIMEZONE has a rule of more than a month a year."));
        }

        // Some start in 1601; what was before the years served needs no evaluation.
        var first = rule is { Interval: 1, Count: null } && start.Year < FirstYear
            ? start.PlusYears(FirstYear - start.Year)
            : start;
        var onsets = RecurrenceDates.Of(rule.Dates, first);

        // UNTIL is told in UTC (RFC 5545, 3.6.5), but wall times are in use as well.
        var last = rule.Until switch
        {
            null => LocalDateTime.MaxIsoValue,
            { IsUtc: true } until => until.Wall.WithOffset(Offset.Zero).WithOffset(from).LocalDateTime,
            { IsDate: true } until => until.Wall.PlusDays(1).PlusSeconds(-1),
            { } until => until.Wall,
        };

        return onsets.Take(rule.Count ?? int.MaxValue).TakeWhile(onset => onset <= last);
    }

    // Others are not in use, and a few of them could take seconds to evaluate.
    private static bool IsOfOneMonth(RecurrenceText rule) =>
        rule.Parts.TryGetValue("BYMONTH", out var months)
            ? !months.Contains(',', StringComparison.Ordinal)
            : !rule.Parts.Keys.Any(RecurrenceLists.IsKnown);

    private static string Required(TextPart part, string name) => part.First(name)?.Value
        ?? throw new BodyRefusedException(BodyFault.Malformed($"A VTIMEZONE has a {part.Name} without {name}."));
}
