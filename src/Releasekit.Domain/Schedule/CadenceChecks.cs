namespace Releasekit.Domain.Schedule;

/// <summary>What a cadence and the settings beside it must be; null means acceptable.</summary>
public static class CadenceChecks
{
    /// <summary>
    /// Refuses: <c>zone.unknown</c>, <c>cadence.start_invalid</c>, and what <see cref="CadenceRule.TryParse"/> refuses.
    /// </summary>
    /// <param name="at">JSON pointer to where the terms stand in the request; empty for its top.</param>
    public static Refusal? Check(CadenceTerms terms, string at)
    {
        if (LocalTimes.FindZone(terms.Zone) is null)
        {
            return Refusal.NotAcceptable(
                "zone.unknown",
                $"'{terms.Zone}' is no time zone of the IANA database; write it like Europe/Lisbon.",
                $"{at}/zone");
        }

        if (terms.Start.Year is < 1970 or > 2199)
        {
            return Refusal.NotAcceptable(
                "cadence.start_invalid", "A cadence starts between 1970 and 2199.", $"{at}/start");
        }

        return CadenceRule.TryParse(terms.Rrule, terms.Start, out var refusal) is null
            ? refusal! with { Member = $"{at}/rrule" }
            : null;
    }

    /// <summary>Refuses: <c>series.settings_invalid</c>, with a fault for each setting.</summary>
    /// <param name="terms">Terms that were already found acceptable.</param>
    public static Refusal? Check(SeriesSettings settings, CadenceTerms terms)
    {
        List<Fault> faults =
        [
            .. Negative(settings.OnTimeTolerance, "/onTimeTolerance"),
            .. Negative(settings.EarlyWindow, "/earlyWindow"),
            .. Negative(settings.LateWindow, "/lateWindow"),
        ];

        if (settings.LateWindow is { } late
            && SlotCalendar.RuleOf(terms).ShortestGapDays is { } days && late >= Duration.FromDays(days))
        {
            faults.Add(new("/lateWindow", "The late window must be shorter than the shortest gap between slots "
                + $"({days} days), or a late release could not be told from the next one on time."));
        }

        var longest = settings.LateWindow ?? SlotCalendar.ShortestLateWindow(terms);

        if (settings.OnTimeTolerance is { } tolerance && tolerance > longest)
        {
            faults.Add(new("/onTimeTolerance", "The tolerance may not be longer than the late window "
                + $"({longest.TotalHours:0.##} h)."));
        }

        if (settings.RiskThreshold is not (>= 0 and <= 1))
        {
            faults.Add(new("/riskThreshold", "The risk threshold is a probability from 0 to 1, such as 0.8."));
        }

        return faults.Count == 0 ? null : Refusal.NotAcceptable("series.settings_invalid", faults);
    }

    private static IEnumerable<Fault> Negative(Duration? duration, string member) => duration < Duration.Zero
        ? [new Fault(member, "A window cannot be negative; give an ISO 8601 duration such as PT24H or P3D.")]
        : [];
}
