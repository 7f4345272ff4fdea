using System.Text.Json;
using Deque.AxeCore.Commons;
using PuppeteerSharp;
using Releasekit.Client;
using Releasekit.Client.Plans;
using Releasekit.Client.Releases;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Pages;

/// <summary>
/// How the sheets look with months that are not usual ones: on paper one page each, on a phone nothing beside the
/// screen, and nothing that axe-core finds (the rules of WCAG 2.2 A and AA as axe-core 4.x tests them).
/// </summary>
public class SheetLookTests(Service service, Chromium chromium)
{
    private static readonly string[] Paths = ["/month", "/week", "/week/list", "/year"];

    private static readonly string LongTitle =
        "No. 118: everything that was heard in one night between the old weir and the new bridge, "
        + "told in the order it happened";

    private const string RightToLeft = "رسالة من المصب: أصوات الليل";

    [Fact]
    public async Task Sheets_of_every_kind_of_month_are_good_on_paper_on_a_phone_and_to_axe()
    {
        var complaints = new List<string>();

        foreach (var (name, publisher) in await Months())
        {
            var found = OnPaper(service.Address, publisher.Token)
                .Concat(OnAPhone(service.Address, publisher.Token))
                .Concat(ToAxe(publisher));
            complaints.AddRange(await found.Select(told => $"{name} {told}").ToListAsync());
        }

        Assert.True(complaints.Count == 0, string.Join("\n", complaints));
    }

    [Fact]
    public async Task The_demo_is_good_on_paper_and_on_a_phone()
    {
        await using var folder = TempFolder.Make();
        using var demo = await KillableService.Start(
            folder.Path, await service.Postgres.CreateDatabaseAsync(), null, (KillableService.Demo, "true"));

        var complaints = await OnPaper(demo.Address, demo.Token).Concat(OnAPhone(demo.Address, demo.Token))
            .ToListAsync();

        Assert.True(complaints.Count == 0, string.Join("\n", complaints));
    }

    private async Task<List<(string, TestPublisher)>> Months() =>
    [
        ("nothing yet", await service.NewPublisher()),
        ("an empty first month", await AnEmptyFirstMonth()),
        ("twelve releases", await TwelveReleases()),
        ("two series with other stages, a full diary", await TwoSeries()),
    ];

    private async IAsyncEnumerable<string> OnPaper(string address, string token)
    {
        var page = await chromium.SignedIn(address, token, 1280);

        foreach (var path in Paths)
        {
            await page.GoToAsync($"{address}{path}");

            if (await Chromium.PrintedSheets(page) is var sheets and not 1)
            {
                yield return $"{path} takes {sheets} sheets of paper";
            }
        }
    }

    private async IAsyncEnumerable<string> OnAPhone(string address, string token)
    {
        var page = await chromium.SignedIn(address, token, 390);

        foreach (var path in Paths)
        {
            await page.GoToAsync($"{address}{path}");
            var width = await page.EvaluateExpressionAsync<int>("document.documentElement.scrollWidth");

            if (width > 390)
            {
                yield return $"{path} is {width} wide";
            }
        }
    }

    private async IAsyncEnumerable<string> ToAxe(TestPublisher publisher)
    {
        foreach (var width in new[] { 390, 1280 })
        {
            var page = await chromium.SignedIn(service, publisher.Token, width, runsScripts: true);
            await page.SetBypassCSPAsync(true);
            var release = (await publisher.Client.Releases.List(limit: 1).Value()).Items.Select(one => one.Id);

            foreach (var path in Paths.Concat(["/sign-in"]).Concat(release.Select(id => $"/releases/{id}")))
            {
                await page.GoToAsync($"{service.Address}{path}");

                foreach (var found in await FoundBy(page))
                {
                    yield return $"{path} at {width}: {found}";
                }
            }
        }
    }

    /// <summary>What axe-core has to say against a page: rule, then the first element it is broken by.</summary>
    private static async Task<string[]> FoundBy(IPage page)
    {
        await page.EvaluateExpressionAsync(new BundledAxeScriptProvider().GetScript());
        var found = await page.EvaluateFunctionAsync<JsonElement>("() => axe.run().then(r => r.violations)");

        return
        [
            .. found.EnumerateArray().Select(rule =>
                $"{rule.GetProperty("id")} at {rule.GetProperty("nodes")[0].GetProperty("html")}"),
        ];
    }

    private async Task<TestPublisher> AnEmptyFirstMonth()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }

    /// <summary>A release for every second or third day, with titles of all sorts, in every state.</summary>
    private async Task<TestPublisher> TwelveReleases()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries(rrule: "FREQ=DAILY");
        var today = service.Clock.Now.InZone(DateTimeZoneProviders.Tzdb["Europe/Lisbon"]).Date;
        var first = today.With(DateAdjusters.StartOfMonth);

        foreach (var i in Enumerable.Range(0, 12))
        {
            var title = i switch { 3 => LongTitle, 7 => RightToLeft, 8 => new string('m', 120), _ => $"No. {110 + i}" };
            var slot = first.PlusDays(1 + (i * 2));
            var release = await publisher.Client.Releases.Plan(
                new(Scenario.Series, title, slot, Scenario.LongAgo)).Value();
            await publisher.Client.Record(release, "outline", StageState.Completed);
            await publisher.Client.Record(
                release, "record", i % 3 == 0 ? StageState.Blocked : StageState.Started, note: "waits for the ferry");
        }

        return publisher;
    }

    private async Task<TestPublisher> TwoSeries()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var many = Enumerable.Range(1, 14).Select(i => new PlannedStage($"stage-{i}", $"Stage number {i}", i == 11));
        await publisher.Client.StagePlans.Create(new("film", [.. many])).Value();
        await publisher.Client.Series.Open(new(
            "film", "An exceedingly long name of a series of films about the shore", "film",
            new("FREQ=MONTHLY;BYDAY=1FR", new(18, 30), "Europe/Lisbon", new LocalDate(2026, 1, 1)))).Value();
        await publisher.Client.Releases.Plan(new(Scenario.Series, "No. 12")).Value();
        await publisher.Client.Releases.Plan(new("film", RightToLeft)).Value();
        var today = service.Clock.Now.InZone(DateTimeZoneProviders.Tzdb["Europe/Lisbon"]).Date;

        foreach (var i in Enumerable.Range(0, 8))
        {
            var (title, sphere) = ($"Harbour office, number {i + 1}", i % 2 == 0 ? Sphere.Work : Sphere.Personal);
            await publisher.Client.Appointments.Create(
                new AppointmentValues(title, today.PlusDays(i % 3), new LocalTime(9 + i, 0))).Value();
            await publisher.Client.Tasks.Create(
                new TaskValues($"Task {i}", LocalDateText(today.PlusDays(i % 4)), sphere)).Value();
        }

        return publisher;
    }

    private static string LocalDateText(LocalDate date) => NodaTime.Text.LocalDatePattern.Iso.Format(date);
}
