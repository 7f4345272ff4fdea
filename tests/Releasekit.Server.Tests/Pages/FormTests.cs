using System.Net;
using Releasekit.Client;
using Releasekit.Client.Releases;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Pages;

/// <summary>What is done on a page is done, is seen in the contract, and a refusal loses nothing.</summary>
public class FormTests(Service service)
{
    private static readonly Guid Nowhere = Guid.Parse("01900000-0000-7000-8000-000000000000");

    [Fact]
    public async Task A_stage_is_ticked_with_one_button_and_taken_back_with_another()
    {
        var publisher = await service.NewPublisher();
        var release = await GivenThisMonths(publisher);
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/month");

        var (status, next) = await visitor.Submit("/forms/stage", ("tick", $"{release.Id}.outline"));
        var ticked = await publisher.Client.Releases.Get(release.Id).Value();
        var (_, _) = await visitor.Submit("/forms/stage", ("undo", $"{release.Id}.outline"));
        var back = await publisher.Client.Releases.Get(release.Id).Value();

        Assert.Equal(HttpStatusCode.SeeOther, status);
        Assert.Equal($"/month?ticked={release.Id}.outline#r-{release.Id}", next);
        Assert.Equal(StageState.Completed, ticked.Stages[0].State);
        Assert.Equal(StageState.Ready, back.Stages[0].State);
        Assert.Equal("Ticked by mistake; taken back on the sheet.", back.Stages[0].Note);
    }

    [Fact]
    public async Task An_idea_is_noted_and_a_task_added_in_the_words_that_were_typed()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/month");

        await visitor.Submit("/forms/idea", ("text", "  The <b>seal</b> & the weir "));
        await visitor.Submit(
            "/forms/task", ("title", "Call the lock keeper"), ("for", "this-week"), ("day", "2027-02-03"),
            ("important", "on"));
        var ideas = await publisher.Client.Ideas.List().Value();
        var tasks = await publisher.Client.Tasks.List().Value();
        var page = await visitor.Open("/month");

        Assert.Equal("The <b>seal</b> & the weir", Assert.Single(ideas.Items).Text);
        var task = Assert.Single(tasks.Items);
        Assert.Equal(("Call the lock keeper", "2027-02-03", true), (task.Title, task.When, task.Important));
        Assert.Contains("The &lt;b&gt;seal&lt;/b&gt; &amp; the weir", page, StringComparison.Ordinal);
        Assert.DoesNotContain("<b>seal", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_task_is_ticked_and_opened_again()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        var task = await publisher.Client.Tasks.Create(new TaskValues("Mend the boots")).Value();
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/week");

        await visitor.Submit("/forms/task-done", ("done", $"{task.Id}"));
        var done = await publisher.Client.Tasks.Get(task.Id).Value();
        await visitor.Submit("/forms/task-done", ("open", $"{task.Id}"));
        var open = await publisher.Client.Tasks.Get(task.Id).Value();

        Assert.True(done.Done);
        Assert.False(open.Done);
    }

    [Theory]
    [InlineData("/forms/task", "title", "\u202eevil", "A title of a task|The title of a task")]
    [InlineData("/forms/task", "title", "", "The title of a task is needed")]
    [InlineData("/forms/idea", "text", "   ", "The text of an idea is needed")]
    public async Task A_refused_form_says_what_would_be_right(string form, string field, string typed, string told)
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/month");

        var (status, page) = await visitor.Submit(form, (field, typed));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains(told.Split('|')[^1], page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_form_keeps_everything_that_was_typed()
    {
        var publisher = await service.NewPublisher();
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/month");

        var (status, page) = await visitor.Submit(
            "/forms/series", ("title", "Mudflat \"Weekly\""), ("every", "2"), ("weekday", "2"), ("time", "06:30"),
            ("zone", "Europe/Lisboa"), ("stages", "Walk\r\nRecord\r\nSend"), ("publication", "Publish"));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("'Europe/Lisboa' is no time zone of the IANA database", WebUtility.HtmlDecode(page));
        Assert.Contains("One line must be 'Publish'", WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.Contains("value=\"Mudflat &quot;Weekly&quot;\"", page, StringComparison.Ordinal);
        Assert.Contains("<option value=\"2\" selected>Tuesday", page, StringComparison.Ordinal);
        Assert.Contains("<option value=\"2\" selected>second week", page, StringComparison.Ordinal);
        Assert.Contains("value=\"06:30\"", page, StringComparison.Ordinal);
        Assert.Contains("Walk\nRecord\nSend</textarea>", WebUtility.HtmlDecode(page), StringComparison.Ordinal);
        Assert.Empty((await publisher.Client.StagePlans.List().Value()).Items);
    }

    [Fact]
    public async Task An_empty_publisher_opens_a_series_and_plans_a_release_for_its_next_slot()
    {
        var publisher = await service.NewPublisher();
        using var visitor = await Visitor.SignedIn(service, publisher);
        await visitor.Open("/month");

        await visitor.Submit(
            "/forms/series", ("title", "Mudflat Weekly"), ("every", "1"), ("weekday", "4"), ("time", "07:00"),
            ("zone", "Europe/Lisbon"), ("stages", "Outline\nRecord\nPublish\nAnnounce"), ("publication", "publish"));
        var slots = await publisher.Client.Series.Slots("mudflat-weekly").Value();
        var next = slots.Items.First(slot => slot.At > service.Clock.Now).Date;
        var (status, _) = await visitor.Submit(
            "/forms/release", ("title", "No. 1"), ("slot", $"mudflat-weekly {next:uuuu-MM-dd}"));
        var release = Assert.Single((await publisher.Client.Releases.List().Value()).Items);

        Assert.Equal(HttpStatusCode.SeeOther, status);
        Assert.Equal(next, release.Slot!.Date);
        Assert.Equal(
            [("outline", false), ("record", false), ("publish", true), ("announce", false)],
            release.Stages.Select(stage => (stage.Key, stage.Publication)));
    }

    [Fact]
    public async Task A_release_without_any_series_is_told_to_open_one()
    {
        using var visitor = await Visitor.SignedIn(service, await service.NewPublisher());
        await visitor.Open("/month");

        var (status, page) = await visitor.Submit("/forms/release", ("title", "No. 1"), ("slot", ""));

        Assert.Equal(HttpStatusCode.UnprocessableEntity, status);
        Assert.Contains("open one first", page, StringComparison.Ordinal);
        Assert.Contains("value=\"No. 1\"", page, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_form_that_is_not_ours_changes_nothing()
    {
        var publisher = await service.NewPublisher();
        using var visitor = await Visitor.SignedIn(service, publisher);

        using var bare = await visitor.Send("/forms/idea", ("text", "planted"));
        await visitor.Open("/month");
        using var forged = await visitor.Send("/forms/idea", ("text", "planted"), ("seal", "CfDJ8AAAA"));

        Assert.Equal(HttpStatusCode.Forbidden, bare.StatusCode);
        Assert.Equal(HttpStatusCode.Forbidden, forged.StatusCode);
        Assert.Empty((await publisher.Client.Ideas.List().Value()).Items);
    }

    [Fact]
    public async Task A_form_of_one_session_is_no_good_in_another()
    {
        var publisher = await service.NewPublisher();
        using var one = await Visitor.SignedIn(service, publisher);
        var page = await one.Open("/month");
        using var other = await Visitor.SignedIn(service, publisher);
        var seal = page.Split("name=\"seal\" value=\"")[1].Split('"')[0];

        using var answer = await other.Send("/forms/idea", ("text", "planted"), ("seal", seal));

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task A_token_that_only_reads_is_shown_no_form_and_can_send_none()
    {
        var publisher = await service.NewPublisher();
        var reading = await publisher.Client.Tokens.Create(new("wall", ["read"])).Value();
        using var visitor = new Visitor(service.Address);
        using var entered = await visitor.Send("/sign-in", ("token", reading.Token));

        var page = await visitor.Open("/month");
        using var answer = await visitor.Send("/forms/idea", ("text", "planted"));

        Assert.DoesNotContain("/forms/", page, StringComparison.Ordinal);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public async Task What_is_another_publishers_is_not_there()
    {
        var stranger = await service.NewPublisher();
        var theirs = await GivenThisMonths(stranger);
        using var visitor = await Visitor.SignedIn(service, await service.NewPublisher());
        await visitor.Open("/month");

        var (ticked, told) = await visitor.Submit("/forms/stage", ("tick", $"{theirs.Id}.outline"));
        await visitor.Open($"/releases/{theirs.Id}", HttpStatusCode.NotFound);
        await visitor.Open($"/releases/{Nowhere}", HttpStatusCode.NotFound);

        Assert.Equal(HttpStatusCode.NotFound, ticked);
        Assert.Contains("There is no stage of a release of that id here.", told, StringComparison.Ordinal);
        Assert.Equal(StageState.Ready, (await stranger.Client.Releases.Get(theirs.Id).Value()).Stages[0].State);
    }

    private static async Task<Release> GivenThisMonths(TestPublisher publisher)
    {
        await publisher.Client.GivenASeries();
        return await publisher.Client.Releases.Plan(new(Scenario.Series, "No. 12")).Value();
    }
}
