using System.Net;
using Releasekit.Client.Imports;
using static Releasekit.Server.Tests.Imports.ImportTests;

namespace Releasekit.Server.Tests.Imports;

/// <summary>Which column tells what, and how what does not fit is told.</summary>
public class ImportColumnsTests(Service service)
{
    [Theory]
    [InlineData("", 422, "import.columns")]
    [InlineData("mood,weather\ngood,fog\n", 422, "import.columns")]
    [InlineData("title;published_at\nx;y\n", 422, "import.columns")]
    [InlineData("title,title\nx,y\n", 422, "import.columns")]
    public async Task A_file_whose_columns_tell_nothing_is_refused_at_once(string file, int status, string code)
    {
        var publisher = await Given();

        var problem = await publisher.Client.Imports.Start(Csv(file), Scenario.Series).Problem();

        Assert.Equal((status, code), (problem.Status, problem.Code));
    }

    [Fact]
    public async Task Columns_are_mapped_and_faults_of_the_mapping_are_all_named()
    {
        var publisher = await Given();

        var problem = await publisher.Client.Imports.Start(
            Csv("when,name\n2026-01-08T07:20:00Z,x\n"), Scenario.Series,
            "colour.completed:when,mix.completed:there,nonsense", "gone").Problem();
        var import = await Import(
            publisher, "\uFEFFwhen,name\n2026-01-08 07:20,By local time\n", "publish.completed:when,title:name");
        var release = Assert.Single((await publisher.Client.Releases.List()).Content!.Items);

        Assert.Equal(["ignore", "map", "map", "map"], problem.Errors!.Select(error => error.Place).Order());
        Assert.Equal(ImportState.Done, import.State);
        Assert.Equal(("By local time", Instant.FromUtc(2026, 1, 8, 7, 20)), (release.Title, release.PublishedAt));
    }

    /// <summary>A header of a megabyte and a map of many faults: the answer must not be their product.</summary>
    [Fact]
    public async Task Faults_of_huge_names_are_told_in_a_few_words()
    {
        var publisher = await Given();
        var header = string.Join(',', Enumerable.Range(0, 150).Select(i => $"{i:000}{new string('h', 9_000)}"));
        var map = string.Join(',', Enumerable.Repeat("title:x", 40));

        using var answer = await publisher.Http.PostAsync(
            new Uri($"/v1/imports?series={Scenario.Series}&map={map}", UriKind.Relative), Csv($"{header}\n"));
        var problem = await publisher.Client.Imports.Start(Csv($"{header}\n"), Scenario.Series, map).Problem();
        var none = await publisher.Client.Imports.Start(Csv($"{header}\n"), Scenario.Series).Problem();

        Assert.Equal(HttpStatusCode.UnprocessableEntity, answer.StatusCode);
        Assert.InRange((await answer.Content.ReadAsByteArrayAsync()).Length, 1, 64 << 10);
        Assert.Equal("And 20 faults more.", problem.Errors![^1].Detail);
        Assert.Contains($"000{new string('h', 37)}…, 001", none.Detail, StringComparison.Ordinal);
        Assert.Contains("and 130 more", none.Detail, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Too_many_columns_are_told_alone()
    {
        var publisher = await Given();

        var problem = await publisher.Client.Imports.Start(
            Csv($"{string.Join(',', Enumerable.Repeat("title", 201))}\n"), Scenario.Series, "nonsense", "gone")
            .Problem();

        Assert.Equal("The file has 201 columns; 200 at most.", Assert.Single(problem.Errors!).Detail);
    }

    [Fact]
    public async Task Names_that_are_long_or_cannot_be_kept_are_shown_short_in_the_run()
    {
        var publisher = await Given();
        var file = $"title,{new string('m', 5_000)},a\0b\nx,y,z\n";

        var import = await Import(publisher, file);

        Assert.Equal((ImportState.Done, 1), (import.State, import.Created));
        Assert.Equal([$"{new string('m', 40)}…", "a b"], import.IgnoredColumns);
    }

    [Theory]
    [InlineData("published_at", "publish_completed_at", null)]
    [InlineData("when", "publish_completed_at", "published_at:when")]
    [InlineData("name", "title", "title:name")]
    public async Task Two_columns_that_tell_the_same_fact_are_refused_until_one_is_ignored(
        string taken, string ignored, string? map)
    {
        var publisher = await Given();
        var file = $"{taken},{ignored}\n2026-01-08T07:20:00Z,2026-02-08T07:20:00Z\n";

        var problem = await publisher.Client.Imports.Start(Csv(file), Scenario.Series, map).Problem();
        var import = await Import(publisher, file, map, ignored);

        Assert.Equal("import.columns", problem.Code);
        Assert.Contains($"'{taken}' and '{ignored}' both tell", problem.Detail, StringComparison.Ordinal);
        Assert.Contains("ignore=", problem.Detail, StringComparison.Ordinal);
        Assert.Equal((ImportState.Done, 1), (import.State, import.Created));
    }

    [Fact]
    public async Task A_column_is_mapped_or_ignored_but_not_both()
    {
        var publisher = await Given();

        var problem = await publisher.Client.Imports.Start(
            Csv("title,when\nx,2026-01-08\n"), Scenario.Series, "slot_date:when", "when").Problem();

        Assert.Equal("'when' is mapped and ignored; leave one of the two out.", Assert.Single(problem.Errors!).Detail);
    }

    [Fact]
    public async Task A_date_that_is_no_slot_is_told_by_the_files_own_column_with_the_nearest_slots()
    {
        var publisher = await Given();
        var holder = await publisher.Client.GivenARelease(slot: new LocalDate(2026, 3, 12));

        var import = await Import(
            publisher, "external_id,when\n1,2026-03-09\n2,2025-12-01\n3,2026-03-12\n", "slot_date:when", dryRun: true);

        Assert.Equal(["when", "when", "when"], import.Errors.Select(error => error.Column));
        Assert.Equal(
            [
                "'Mudflat Weekly' promises no slot on 2026-03-09; nearest are 2026-03-05 and 2026-03-12.",
                "'Mudflat Weekly' promises no slot on 2025-12-01; nearest is 2026-01-01.",
                "The slot of 2026-03-12 is held by another release.",
            ],
            import.Errors.Select(error => error.Reason));
        Assert.Equal(new LocalDate(2026, 3, 12), holder.Slot!.Date);
    }

    private async Task<TestPublisher> Given()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }
}
