using NodaTime.Text;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

/// <summary>A file of Checks/ with the cadence a case declares for it.</summary>
internal sealed record RealHistory(
    IReadOnlyList<PromisedSlot> Slots, IReadOnlyList<Publication> Publications, Instant Now, LocalDate From)
{
    /// <summary>Where the case says <c>link</c>, each slot of the file is held by its row's release.</summary>
    public static RealHistory Read(CheckCase check)
    {
        var rows = Rows(CheckCase.PathOf(check.History));
        var zone = LocalTimes.FindZone(check.Inputs.Text("tz"))!;
        var now = OffsetDateTimePattern.ExtendedIso.Parse(check.Inputs.Text("now")).Value.ToInstant();
        var isLinked = check.Inputs.TryGetProperty("link", out _);
        var dates = isLinked ? [.. rows.Select(row => Date(row["slot_date"])).Order()] : RuleDates(check, now, zone);
        var time = isLinked
            ? LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(check.Inputs.Text("local_time")).Value
            : Start(check).TimeOfDay;

        Publication[] publications =
        [
            .. rows.Select(row =>
            {
                var at = InstantPattern.General.Parse(row["published_at"]).Value;
                LocalDate? slot = isLinked ? Date(row["slot_date"]) : null;
                return new Publication(Guid.NewGuid(), at, at.InZone(zone).LocalDateTime, slot);
            }),
        ];
        var holders = publications.Where(publication => publication.SlotDate is not null)
            .ToDictionary(publication => publication.SlotDate!.Value, publication => (Guid?)publication.Release);
        var slots = dates.Select(date => new PromisedSlot(
            date, LocalTimes.ToInstant(date + time, zone), IsExcused: false, holders.GetValueOrDefault(date),
            Window(check, "early_days"), Window(check, "late_days")));
        return new RealHistory([.. slots], publications, now, dates[0]);
    }

    private static IReadOnlyList<LocalDate> RuleDates(CheckCase check, Instant now, DateTimeZone zone)
    {
        var start = Start(check).Date;
        var rule = CadenceRule.TryParse(check.Inputs.Text("rrule"), start, out _)!;
        return [.. rule.Between(start, now.InZone(zone).Date.PlusDays(1))];
    }

    private static LocalDateTime Start(CheckCase check) =>
        LocalDateTimePattern.ExtendedIso.Parse(check.Inputs.Text("dtstart")).Value;

    private static Duration Window(CheckCase check, string name) =>
        Duration.FromDays(check.Inputs.TryGetProperty(name, out var days) ? days.GetInt32() : 0);

    private static LocalDate Date(string text) => LocalDatePattern.Iso.Parse(text).Value;

    private static List<Dictionary<string, string>> Rows(string path)
    {
        var lines = File.ReadAllLines(path);
        var names = lines[0].Split(',');
        return
        [
            .. lines.Skip(1).Where(line => line.Length > 0).Select(line =>
                names.Zip(line.Split(',')).ToDictionary(cell => cell.First, cell => cell.Second)),
        ];
    }
}
