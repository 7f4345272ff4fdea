using PuppeteerSharp;
using Releasekit.Client;
using Releasekit.Client.Ideas;
using Releasekit.Client.Releases;

namespace Releasekit.Server.Tests.Pages;

/// <summary>A real browser with scripts switched off: sign in, tick, note, add.</summary>
public class BrowserTests(Service service, Chromium chromium)
{
    [Fact]
    public async Task A_stage_is_ticked_in_place_and_taken_back()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.Releases.Plan(new(Scenario.Series, "Where the mud goes")).Value();
        var page = await chromium.SignedIn(service, publisher.Token);

        await page.ClickAndWait($"button[value='{release.Id}.outline']");
        var row = await page.Seen($"#r-{release.Id}");
        var ticked = await publisher.Client.Releases.Get(release.Id).Value();
        await page.ClickAndWait($"button[name=undo]");
        var back = await publisher.Client.Releases.Get(release.Id).Value();

        Assert.Contains("Outline is done.", row, StringComparison.Ordinal);
        Assert.Equal(StageState.Completed, ticked.Stages[0].State);
        Assert.Equal(StageState.Ready, back.Stages[0].State);
    }

    [Fact]
    public async Task An_idea_and_a_task_are_written_down_where_they_are_seen()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var page = await chromium.SignedIn(service, publisher.Token, width: 390);

        await page.TypeAsync("#ideas input[name=text]", "Sound of a drying creek");
        await page.ClickAndWait("#ideas button");
        await page.TypeAsync("#tasks input[name=title]", "Send the invoice");
        await page.ClickAsync("#tasks input[name=important]");
        await page.ClickAndWait("#tasks form.add button");

        Assert.Contains("Sound of a drying creek", await page.Seen("#ideas"), StringComparison.Ordinal);
        Assert.Contains("Send the invoice", await page.Seen("#tasks"), StringComparison.Ordinal);
        Assert.True(Assert.Single((await publisher.Client.Tasks.List().Value()).Items).Important);
    }

    [Fact]
    public async Task A_stage_is_held_up_with_its_reason_on_the_page_of_the_release()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var release = await publisher.Client.Releases.Plan(new(Scenario.Series, "The ferry that went to sea")).Value();
        var page = await chromium.SignedIn(service, publisher.Token);
        await page.GoToAsync($"{service.Address}/releases/{release.Id}");

        await page.ClickAndWait("#s-record button[value=blocked]");
        var refused = await page.Seen("#s-record .fault");
        await page.TypeAsync("#s-record input[name=note]", "the ferry is in the yard");
        await page.ClickAndWait("#s-record button[value=blocked]");
        await page.GoToAsync($"{service.Address}/month");

        Assert.Contains("reason", refused, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("the ferry is in the yard", await page.Seen(".warnings"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_pages_break_none_of_their_own_rules()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        await publisher.Client.Ideas.Create(new IdeaValues("<script>document.title = 'broken'</script>")).Value();
        var page = await chromium.SignedIn(service, publisher.Token, runsScripts: true);
        var complaints = new List<string>();
        page.Console += (_, told) => complaints.Add(told.Message.Text);
        page.PageError += (_, told) => complaints.Add(told.Message);
        page.Response += (_, got) => complaints.AddRange((int)got.Response.Status >= 400 ? [got.Response.Url] : []);

        foreach (var path in new[] { "/month", "/week", "/week/list", "/year" })
        {
            await page.GoToAsync($"{service.Address}{path}", WaitUntilNavigation.Networkidle0);
            Assert.NotEqual("broken", await page.GetTitleAsync());
        }

        Assert.Empty(complaints);
    }
}
