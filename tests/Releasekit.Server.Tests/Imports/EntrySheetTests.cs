using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Releasekit.Client;
using Releasekit.Client.Imports;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Imports;

/// <summary>Entries into and out of spreadsheets.</summary>
public sealed class EntrySheetTests(Service service)
{
    private static readonly string[] Pieces =
        ["tide", "a,b", "say \"ebb\"", "two\nlines", "semi;colon", "Praía", "מים", "=1+1", " spaced ", "🌊", "\t", "-"];

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

    private static async Task Fill(ReleasekitClient client, string kind, Random random)
    {
        for (var i = 0; i < 12; i++)
        {
            var text = $"{i} {Text(random)}\n{Text(random)}";
            var line = $"{i} {Text(random).Replace('\n', ' ').Replace('\t', ' ')}";
            string[] tags = ["mud", "salt & sand"];
            var day = new LocalDate(2026, 3, 1).PlusDays(random.Next(40));
            var at = Instant.FromUtc(2026, 2, 1, 9, 0) + Duration.FromMinutes(random.Next(9_999));

            await (kind switch
            {
                "ideas" => (Task)client.Ideas.Create(
                    new(text, null, tags, random.Next(1, 4), Duration.FromMinutes(90), at)).Value(),
                "notes" => client.Notes.Create(new(text, i % 2 == 0 ? line : null, tags, null, at)).Value(),
                "wants" => client.Wants.Create(new(
                    line, i % 2 == 0 ? "recording" : null, i % 3 == 0 ? new(12.5m, "EUR") : null,
                    "https://example.org/a?b=c,d", text, i % 4 == 0 ? day : null, tags, at)).Value(),
                "tasks" => client.Tasks.Create(new(
                    line, i % 2 == 0 ? "2026-W10" : "2026-03", i % 2 == 0 ? Sphere.Work : Sphere.Personal, i % 3 == 0,
                    Duration.FromHours(2), text, tags, NotedAt: at)).Value(),
                _ => client.Appointments.Create(new(
                    line, day, i % 2 == 0 ? new LocalTime(9, 30) : null,
                    Rrule: i % 3 == 0 ? "FREQ=DAILY;INTERVAL=2" : null,
                    Except: i % 3 == 0 ? [day.PlusDays(2), day.PlusDays(4)] : null, Note: text, NotedAt: at)).Value(),
            });
        }
    }

    private static string Text(Random random) =>
        string.Concat(Enumerable.Range(0, random.Next(1, 6)).Select(_ => Pieces[random.Next(Pieces.Length)]));

    private static async Task<string> Export(ReleasekitClient client, string kind) => await (kind switch
    {
        "ideas" => client.Ideas.Export(),
        "notes" => client.Notes.Export(),
        "wants" => client.Wants.Export(),
        "tasks" => client.Tasks.Export(),
        _ => client.Appointments.Export(),
    }).Value();

    private static async Task<Import> Import(
        ReleasekitClient client, string kind, string sheet, string? map = null, bool? dryRun = null)
    {
        var run = await client.Imports.Start(Csv(sheet), map: map, dryRun: dryRun, kind: kind).Value();
        Assert.Equal(run.State, (await client.Imports.Get(run.Id).Value()).State);
        return run;
    }

    private static StringContent Csv(string sheet) => new(sheet, new UTF8Encoding(false), "text/csv");

    private static async Task<string[][]> InPython(string sheet)
    {
        var start = new ProcessStartInfo(
            "python3", ["-c", "import csv,io,json,sys; "
                + "print(json.dumps(list(csv.reader(io.TextIOWrapper(sys.stdin.buffer,'utf-8',newline='')))))"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        };
        using var python = Process.Start(start)!;
        await python.StandardInput.BaseStream.WriteAsync(Encoding.UTF8.GetBytes(sheet));
        python.StandardInput.Close();
        return JsonSerializer.Deserialize<string[][]>(await python.StandardOutput.ReadToEndAsync())!;
    }
}
