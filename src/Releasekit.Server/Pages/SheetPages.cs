using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Sheets;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages;

/// <summary>Shows the sheets as pages, and again with what was typed when a form of theirs was refused.</summary>
internal sealed class SheetPages(IDocumentStore store, ServiceClock clock, HtmlPages pages)
{
    /// <summary>How far ahead slots are offered to plan for.</summary>
    private const int WeeksToPlan = 26;

    private const int MostSlots = 12;

    /// <param name="form">A form that was refused; null when the page is just looked at.</param>
    public async Task Show(HttpContext http, Caller caller, SheetAddress address, FilledForm? form = null)
    {
        await using var session = store.QuerySession(caller.Publisher);
        var entries = await EntryScene.Load(session, clock.Now, http.RequestAborted);
        var scene = pages.SceneOf(http, caller, address.Path, form);
        var status = form?.Status ?? StatusCodes.Status200OK;

        await (address switch
        {
            SheetAddress.Year year => Year(http, status, scene, entries, year.Number ?? entries.Today.Year),
            SheetAddress.Week week => Week(http, status, scene, entries, week.Monday ?? entries.Today, week.IsList),
            SheetAddress.Release release => Release(http, status, scene, entries, release.Id),
            _ => Month(http, status, scene, entries, ((SheetAddress.Month)address).First ?? entries.Today),
        });
    }

    private async Task Month(HttpContext http, int status, PageScene scene, EntryScene entries, LocalDate within)
    {
        var month = CalendarPeriod.Holding(PeriodKind.Month, within);
        var facts = await SheetReading.Load(entries, month.First, month.Last.PlusDays(1));

        await pages.Write<MonthPage>(http, status, new()
        {
            [nameof(MonthPage.Scene)] = scene,
            [nameof(MonthPage.Sheet)] = MonthSheet.Of(facts, month.First),
            [nameof(MonthPage.First)] = month.First,
            [nameof(MonthPage.Free)] = FreeSlots(facts),
            [nameof(MonthPage.Zone)] = facts.Publisher.Zone,
        });
    }

    private async Task Week(
        HttpContext http, int status, PageScene scene, EntryScene entries, LocalDate within, bool isList)
    {
        var week = CalendarPeriod.Holding(PeriodKind.Week, within);
        var facts = await SheetReading.Load(entries, week.First, week.Last.PlusDays(1));

        await pages.Write<WeekPage>(http, status, new()
        {
            [nameof(WeekPage.Scene)] = scene,
            [nameof(WeekPage.Sheet)] = WeekSheet.Of(facts, week.First),
            [nameof(WeekPage.Monday)] = week.First,
            [nameof(WeekPage.IsList)] = isList,
        });
    }

    private async Task Year(HttpContext http, int status, PageScene scene, EntryScene entries, int year)
    {
        var facts = await SheetReading.Load(entries, new(year, 1, 1), new(year + 1, 1, 1));

        await pages.Write<YearPage>(http, status, new()
        {
            [nameof(YearPage.Scene)] = scene,
            [nameof(YearPage.Sheet)] = YearSheet.Of(facts, year),
        });
    }

    private async Task Release(HttpContext http, int status, PageScene scene, EntryScene entries, Guid id)
    {
        if (await entries.Documents.LoadAsync<Release>(id, entries.Cancel) is not { } release)
        {
            await pages.WriteProblem(http, Problems.NotFound("release of that id"));
            return;
        }

        var series = await entries.Documents.LoadAsync<Series>(StreamIds.OfSeries(release.Series), entries.Cancel);
        var slot = release.HeldSlot is { } date ? SlotCalendar.Find(series!, date) : null;

        await pages.Write<ReleasePage>(http, status, new()
        {
            [nameof(ReleasePage.Scene)] = scene,
            [nameof(ReleasePage.Release)] = release,
            [nameof(ReleasePage.SeriesTitle)] = series!.Title,
            [nameof(ReleasePage.SlotAt)] = slot?.OwedAt,
            [nameof(ReleasePage.Local)] = entries.Zone,
        });
    }

    /// <summary>The next slots that nobody holds, by time.</summary>
    private static IReadOnlyList<FreeSlot> FreeSlots(SheetFacts facts) =>
    [
        .. facts.Series
            .Where(series => series.Series.ClosedAt is null)
            .SelectMany(series => SlotCalendar
                .Between(series.Series, facts.Today, facts.Today.PlusWeeks(WeeksToPlan))
                .Where(slot => slot.OwedAt > facts.Now && !IsHeld(facts, series.Series.Slug, slot.Date))
                .Select(slot => new FreeSlot(
                    series.Series.Slug, series.Series.Title, slot.Date, facts.DateOf(slot.At), slot.At)))
            .OrderBy(slot => slot.At)
            .Take(MostSlots),
    ];

    private static bool IsHeld(SheetFacts facts, string series, LocalDate slot) =>
        facts.Releases.Any(release => release.Series == series && release.HeldSlot == slot);
}

/// <summary>A slot that a release can be planned for.</summary>
/// <param name="Date">The original local date that names it.</param>
/// <param name="On">The publisher's local date.</param>
/// <param name="At">UTC.</param>
public sealed record FreeSlot(string Series, string Title, LocalDate Date, LocalDate On, Instant At);
