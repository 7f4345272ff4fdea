using System.Text;
using Releasekit.Client;
using Releasekit.Client.Imports;

using static Releasekit.Server.Tests.Imports.EntrySheets;

namespace Releasekit.Server.Tests.Imports;

/// <summary>Entries into and out of spreadsheets.</summary>
public sealed class EntrySheetTests(Service service)
{
    public static TheoryData<string> Kinds => ["ideas", "notes", "wants", "tasks", "appointments"];

    [Theory]
    [MemberData(nameof(Kinds))]
    public async Task What_is_exported_comes_back_the_same_and_adds_nothing_twice(string kind)
    {
        var (from, to) = ((await service.NewPublisher()).Client, (await service.NewPublisher()).Client);
        await Fill(from, kind, new Random(7));

        var sheet = await Export(from, kind);
        var once = await Import(to, kind, sheet);
        var twice = await Import(to, kind, sheet);
        var again = await Export(to, kind);

        Assert.Equal((ImportState.Done, 12, 12, 0), (once.State, once.Rows, once.Created, once.Unchanged));
        Assert.Equal((ImportState.Done, 12, 0, 12), (twice.State, twice.Rows, twice.Created, twice.Unchanged));
        Assert.Equal(sheet, again);
        Assert.Empty(once.IgnoredColumns);
    }

    /// <summary>Python's csv module reads what is written (its default dialect is RFC 4180's).</summary>
    [Fact]
    public async Task Another_reader_reads_the_same_fields()
    {
        var client = (await service.NewPublisher()).Client;
        await Fill(client, "ideas", new Random(3));
        var texts = (await client.Ideas.List().Value()).Items.Select(idea => idea.Text);

        var read = await InPython(await Export(client, "ideas"));

        Assert.Equal(["text", "series", "tags", "worth", "effort", "noted_at"], read[0]);
        Assert.Equal(texts, read.Skip(1).Select(row => row[0]));
    }

    [Fact]
    public async Task Bad_rows_are_named_by_line_and_column_and_nothing_is_imported()
    {
        var client = (await service.NewPublisher()).Client;
        var sheet = "Wanted,price_amount,price_currency,bought_on,colour\n"
            + "Hydrophone,189.50,EUR,2026-03-05,blue\n"
            + "Waders,dear,EUR,,\n"
            + ",10,EUR,,\n"
            + "Chart,10,euro,yesterday,\n"
            + "\"Two\nlines\",10,EUR,,\n"
            + "Rope,10,EUR\n"
            + "Hydrophone,,,,\n";

        var run = await Import(client, "wants", sheet, map: "title:Wanted");

        Assert.Equal((ImportState.Failed, 7, 0), (run.State, run.Rows, run.Created));
        Assert.Equal(
            [
                (3, "price_amount"), (4, "Wanted"), (5, "bought_on"), (6, "Wanted"), (8, null), (9, null),
            ],
            run.Errors.Select(error => (error.Line, error.Column)));
        Assert.Equal(["colour"], run.IgnoredColumns);
        Assert.Contains("line 2", run.Errors[^1].Reason);
        Assert.Empty((await client.Wants.List().Value()).Items);
    }

    [Fact]
    public async Task The_same_file_sent_four_times_at_once_comes_in_once()
    {
        var client = (await service.NewPublisher()).Client;
        var sheet = "title,when,rrule\nBack up,2026-W10,FREQ=WEEKLY;COUNT=2\nOil,2026-W09,\n";

        var runs = await Task.WhenAll(Enumerable.Range(0, 4).Select(_ => Import(client, "tasks", sheet)));

        Assert.Equal([0, 0, 0, 2], runs.Select(run => run.Created).Order());
        Assert.Equal(3, (await client.Tasks.List().Value()).Items.Count);
    }

    [Fact]
    public async Task A_task_whose_rule_begins_later_is_known_again()
    {
        var client = (await service.NewPublisher()).Client;
        var sheet = "title,when,rrule\nTide tables,2026-03-02,FREQ=WEEKLY;BYDAY=TH;COUNT=2\n";

        await Import(client, "tasks", sheet);
        var twice = await Import(client, "tasks", sheet);

        Assert.Equal((0, 1), (twice.Created, twice.Unchanged));
        Assert.Equal(
            ["2026-03-05", "2026-03-12"], (await client.Tasks.List().Value()).Items.Select(task => task.When));
    }

    [Fact]
    public async Task The_longest_note_of_quotation_marks_and_a_tag_with_a_semicolon_come_back()
    {
        var (from, to) = ((await service.NewPublisher()).Client, (await service.NewPublisher()).Client);
        await from.Notes.Create(new(new string('"', 100_000), Tags: ["a;b", @"c\d"])).Value();

        var run = await Import(to, "notes", await Export(from, "notes"));

        Assert.Equal((ImportState.Done, 1), (run.State, run.Created));
        var note = (await to.Notes.List().Value()).Items.Single();
        Assert.Equal(100_000, note.Text.Length);
        Assert.Equal(["a;b", @"c\d"], note.Tags);
    }

    [Theory]
    [InlineData("title,price_amount,price_currency\nRope,\"1,50\",EUR\n", "price_amount")]
    [InlineData("title,note\nRope,caf\uFFFD\n", "note")]
    public async Task What_could_be_read_wrongly_is_refused(string sheet, string column)
    {
        var client = (await service.NewPublisher()).Client;

        var run = await Import(client, "wants", sheet);

        Assert.Equal((ImportState.Failed, column), (run.State, run.Errors.Single().Column));
    }

    [Fact]
    public async Task A_hundred_recurrences_are_the_most()
    {
        var client = (await service.NewPublisher()).Client;
        var rows = Enumerable.Range(0, 101).Select(i => $"Task {i},2026-W10,FREQ=YEARLY\n");

        var run = await Import(client, "tasks", $"title,when,rrule\n{string.Concat(rows)}");

        Assert.Equal((102, "rrule"), (run.Errors.Single().Line, run.Errors.Single().Column));
        Assert.Empty((await client.Tasks.List().Value()).Items);
    }

    [Fact]
    public async Task A_dry_run_counts_and_stores_nothing()
    {
        var client = (await service.NewPublisher()).Client;
        await client.Tasks.Create(new("Known", "2026-03")).Value();

        var run = await Import(
            client, "tasks", "title,when,rrule\nKnown,2026-03,\nNew,2026-W10,FREQ=WEEKLY\n", dryRun: true);

        Assert.Equal((ImportState.Done, 1, 1, true), (run.State, run.Created, run.Unchanged, run.DryRun));
        Assert.Equal("Known", Assert.Single((await client.Tasks.List().Value()).Items).Title);
    }

    [Fact]
    public async Task A_rule_in_a_row_begins_a_recurrence_and_a_done_task_is_done()
    {
        var client = (await service.NewPublisher()).Client;

        var run = await Import(
            client, "tasks",
            "title,when,rrule,completed_at\n"
            + "Back up,2026-W10,FREQ=WEEKLY;COUNT=3,\nOil,2026-W09,,2026-02-27T18:00:00Z\n");

        var tasks = (await client.Tasks.List().Value()).Items;
        Assert.Equal(2, run.Created);
        Assert.Equal(
            [("Oil", true), ("Back up", false), ("Back up", false), ("Back up", false)],
            tasks.Select(task => (task.Title, task.Done)));
    }

    [Theory]
    [InlineData("text;tags\nx;y\n", "", "header")]
    [InlineData("text", "", "header")]
    [InlineData("thought\nx\n", "", "header")]
    [InlineData("text,Idea\nx,y\n", "text:Idea", "header")]
    [InlineData("text\nx\n", "nonsense", "map")]
    [InlineData("text\nx\n", "text:Missing", "map")]
    public async Task Columns_that_cannot_be_understood_are_refused(string sheet, string map, string place)
    {
        var client = (await service.NewPublisher()).Client;

        if (sheet == "text")
        {
            var empty = await Import(client, "ideas", sheet);
            Assert.Equal((ImportState.Done, 0), (empty.State, empty.Rows));
            return;
        }

        var problem = await client.Imports.Start(Csv(sheet), map: map, kind: "ideas").Problem();

        Assert.Equal(("import.columns", 422), (problem.Code, problem.Status));
        Assert.Contains(place, problem.Errors!.Select(error => error.Place));
    }

    [Fact]
    public async Task Ten_thousand_rows_are_the_most()
    {
        var client = (await service.NewPublisher()).Client;
        var sheet = new StringBuilder("title\n");

        for (var i = 0; i <= 10_000; i++)
        {
            sheet.Append("Want ").Append(i).Append('\n');
        }

        var run = await Import(client, "wants", sheet.ToString());

        Assert.Equal(ImportState.Failed, run.State);
        Assert.Contains("more than 10000 rows", Assert.Single(run.Errors).Reason);
        Assert.Empty((await client.Wants.List().Value()).Items);
    }

    [Fact]
    public async Task Unknown_kinds_and_a_series_where_none_belongs_are_refused()
    {
        var client = (await service.NewPublisher()).Client;

        var kind = await client.Imports.Start(Csv("text\nx\n"), kind: "letters").Problem();
        var series = await client.Imports.Start(Csv("text\nx\n"), "mudflat", kind: "ideas").Problem();

        Assert.Equal(
            [("kind", 400), ("series", 400)],
            new[] { kind, series }.Select(problem => (problem.Errors!.Single().Place, problem.Status)));
    }
}
