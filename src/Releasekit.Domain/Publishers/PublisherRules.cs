namespace Releasekit.Domain.Publishers;

/// <summary>What a publisher's own settings must be.</summary>
public static class PublisherRules
{
    private const int MostDaysOff = 2_000;
    private const int MostWorkingHours = 7 * 24;
    private const int MostProjectsAYear = 100;

    /// <summary>
    /// Refuses: <c>publisher.invalid</c>, with a fault for each thing that is wrong; null means acceptable.
    /// </summary>
    public static Refusal? Check(Publisher publisher)
    {
        List<Fault> faults =
            [.. FaultsOf(publisher), .. FaultsOf(publisher.WorkingWeek), .. publisher.Reminders.Faults()];
        return faults.Count == 0 ? null : Refusal.NotAcceptable("publisher.invalid", faults);
    }

    private static IEnumerable<Fault> FaultsOf(Publisher publisher)
    {
        if (Wording.FaultOfKey(publisher.Id, "The id of a publisher") is { } id)
        {
            yield return new("/id", id);
        }

        if (Wording.FaultOfLine(publisher.Name, "A name") is { } name)
        {
            yield return new("/name", name);
        }

        if (Schedule.LocalTimes.FindZone(publisher.Zone) is null)
        {
            yield return new(
                "/zone", $"'{publisher.Zone}' is no time zone of the IANA database; write it like Europe/Lisbon.");
        }

        if (publisher.DaysOff.Count > MostDaysOff)
        {
            yield return new("/daysOff", $"{MostDaysOff} days off at most.");
        }

        if (publisher.ProjectsAYear is < 0 or > MostProjectsAYear)
        {
            yield return new("/projectsAYear", $"0 to {MostProjectsAYear} projects a year.");
        }
    }

    private static IEnumerable<Fault> FaultsOf(IReadOnlyList<WorkingHours> week)
    {
        if (week.Count > MostWorkingHours)
        {
            yield return new("/workingWeek", $"{MostWorkingHours} stretches of working hours at most.");
            yield break;
        }

        foreach (var (hours, i) in week.Select((hours, i) => (hours, i)))
        {
            if (hours.To <= hours.From && hours.To != LocalTime.Midnight)
            {
                yield return new(
                    $"/workingWeek/{i}/to", "Working hours end after they begin, on the same day; 00:00 is its end.");
            }

            if (week.Take(i).Any(other => Overlap(hours, other)))
            {
                yield return new($"/workingWeek/{i}", "Working hours of a day may not overlap; join the two.");
            }
        }
    }

    private static bool Overlap(WorkingHours one, WorkingHours other) =>
        one.Day == other.Day && one.From < EndOf(other) && other.From < EndOf(one);

    private static LocalTime EndOf(WorkingHours hours) =>
        hours.To == LocalTime.Midnight ? LocalTime.MaxValue : hours.To;
}
