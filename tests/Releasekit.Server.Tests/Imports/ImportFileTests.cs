using System.Net;
using System.Text;
using Releasekit.Client;
using Releasekit.Client.Imports;
using static Releasekit.Server.Tests.Imports.ImportTests;

namespace Releasekit.Server.Tests.Imports;

/// <summary>What a file may be made of: its bytes, its size, its rows.</summary>
public class ImportFileTests(Service service)
{
    [Theory]
    [InlineData("2026-01-08T07:20:00.1234567Z")]
    [InlineData("2026-01-08T07:20:00.123456789Z")]
    public async Task A_publication_told_finer_than_we_keep_it_is_known_again(string at)
    {
        var publisher = await Given();
        var file = $"title,published_at\nFirst,{at}\n";

        var once = await Import(publisher, file);
        var twice = await Import(publisher, file);
        var release = Assert.Single((await publisher.Client.Releases.List()).Content!.Items);

        Assert.Equal(((1, 0), (0, 1)), ((once.Created, once.Unchanged), (twice.Created, twice.Unchanged)));
        Assert.Equal(0, release.PublishedAt!.Value.ToUnixTimeTicks() % NodaConstants.TicksPerMillisecond);
    }

    /// <summary>Spreadsheets write the mark; RFC 4180 allows every field to be quoted.</summary>
    [Fact]
    public async Task A_byte_order_mark_before_a_quoted_name_is_no_part_of_it()
    {
        var publisher = await Given();

        var import = await Import(publisher, "\uFEFF\"title\",\"published_at\"\n\"x\",2026-01-08T07:20:00Z\n");

        Assert.Equal((ImportState.Done, 1, 0), (import.State, import.Created, import.IgnoredColumns.Count));
    }

    [Fact]
    public async Task What_is_no_CSV_in_UTF8_is_refused()
    {
        var publisher = await Given();
        var latin = new ByteArrayContent([.. "title\nCaf"u8, 0xE9, (byte)'\n']);
        latin.Headers.ContentType = new("text/csv");

        var json = await publisher.Http.PostAsync(
            new Uri($"/v1/imports?series={Scenario.Series}", UriKind.Relative),
            new StringContent("{}", Encoding.UTF8, "application/json"));
        var invalid = await Finished(publisher, await publisher.Client.Imports.Start(latin, Scenario.Series).Value());
        var open = await Import(publisher, "title\n\"never closed\n");
        var unknown = await publisher.Client.Imports.Start(Csv("title\nx\n"), "nothing").Problem();

        Assert.Equal(HttpStatusCode.UnsupportedMediaType, json.StatusCode);
        Assert.Contains("UTF-8", Assert.Single(invalid.Errors).Reason, StringComparison.Ordinal);
        Assert.Equal(ImportState.Failed, open.State);
        Assert.Equal("series.unknown", unknown.Code);
    }

    [Fact]
    public async Task A_file_of_a_header_alone_is_done_at_once()
    {
        var publisher = await Given();

        var import = await Import(publisher, "title,published_at\n");

        Assert.Equal((ImportState.Done, 0, 0), (import.State, import.Rows, import.Created));
        Assert.Empty(import.Errors);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_file_beyond_its_bound_is_refused_and_one_beyond_that_of_other_bodies_is_not(bool hasKey)
    {
        var publisher = await Given();
        async Task<HttpStatusCode> Send(int mebibytes)
        {
            var file = new byte[mebibytes << 20];
            Array.Fill(file, (byte)'\n');
            "title\nx\n"u8.CopyTo(file);
            using var request = new HttpRequestMessage(HttpMethod.Post, $"/v1/imports?series={Scenario.Series}")
            {
                Content = new ByteArrayContent(file) { Headers = { ContentType = new("text/csv") } },
                Headers = { ExpectContinue = true },
            };
            request.Headers.Add("Idempotency-Key", hasKey ? [$"{Guid.NewGuid()}"] : []);

            using var answer = await publisher.Http.SendAsync(request);
            return answer.StatusCode;
        }

        Assert.Equal(
            (HttpStatusCode.Accepted, HttpStatusCode.RequestEntityTooLarge),
            (await Send(mebibytes: 2), await Send(mebibytes: 65)));
    }

    [Fact]
    public async Task Of_many_errors_the_first_thousand_lines_are_told_and_all_are_counted()
    {
        var publisher = await Given();
        var rows = Enumerable.Range(0, 3_000).Select(i => i % 2 == 0 ? "same,2026-01-09" : $"{i},2026-01-09");

        var import = await Import(publisher, $"external_id,slot_date\n{string.Join('\n', rows)}\n");

        // Every row names a day without slot, 2,999 a slot named before, and 1,499 an id that stood before: of line 2
        // one error, of odd lines two, of the other even ones three.
        Assert.Equal((ImportState.Failed, 3_000 + 2_999 + 1_499), (import.State, import.ErrorCount));
        Assert.Equal(1_000, import.Errors.Count);
        Assert.Equal(import.Errors.Select(error => error.Line).Order(), import.Errors.Select(error => error.Line));
        Assert.Equal((2, 402), (import.Errors[0].Line, import.Errors[^1].Line));
    }

    private async Task<TestPublisher> Given()
    {
        var publisher = await service.NewPublisher();
        await publisher.Client.GivenASeries();
        return publisher;
    }
}
