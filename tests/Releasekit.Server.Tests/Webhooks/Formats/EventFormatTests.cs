using System.Net.Mime;
using System.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using CloudNative.CloudEvents;
using CloudNative.CloudEvents.Extensions;
using CloudNative.CloudEvents.SystemTextJson;
using Releasekit.Server.Events;
using Releasekit.Server.Webhooks.Formats;

namespace Releasekit.Server.Tests.Webhooks.Formats;

/// <summary>
/// The two forms of an event: Standard Webhooks 1.0.0 ("Payload structure"), and CloudEvents 1.0 in structured mode,
/// read by the SDK of that project (NuGet CloudNative.CloudEvents.SystemTextJson 2.9.0).
/// </summary>
public class EventFormatTests
{
    private static readonly Uri Service = new("https://releases.example.com");

    public static TheoryData<string> Types => [.. Messages.Types];

    [Theory]
    [MemberData(nameof(Types))]
    public void Every_type_has_a_sample_that_is_told_in_both_forms(string type)
    {
        var sample = SampleEvents.Of(type)!;

        var plain = JsonNode.Parse(PlainEvent.Write(sample).Bytes)!.AsObject();
        var cloud = Decode(CloudEnvelope.Write(sample, Service));

        Assert.Equal(["id", "type", "timestamp", "data"], plain.Select(member => member.Key));
        Assert.Equal(type, plain["type"]!.GetValue<string>());
        Assert.Matches("^[a-zA-Z0-9_]+(\\.[a-zA-Z0-9_]+)+$", type);
        Assert.Matches("^[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9:]{8}Z$", plain["timestamp"]!.GetValue<string>());
        Assert.Equal(plain["id"]!.GetValue<string>(), cloud.Id);
        Assert.Equal($"org.releasekit.{type}", cloud.Type);
        Assert.Equal(sample.Timestamp.ToDateTimeOffset(), cloud.Time);
        Assert.True(JsonNode.DeepEquals(plain["data"], JsonNode.Parse(((JsonElement)cloud.Data!).GetRawText())));
    }

    [Fact]
    public void A_cloud_event_names_its_history_and_its_place_in_it()
    {
        var body = CloudEnvelope.Write(SampleEvents.Of("release.published")!, Service);

        var cloud = Decode(body);

        Assert.Equal("application/cloudevents+json; charset=utf-8", body.MediaType);
        Assert.Equal(CloudEventsSpecVersion.V1_0, cloud.SpecVersion);
        Assert.Equal(
            "https://releases.example.com/v1/releases/019cb5c0-0000-7000-8000-000000000002", $"{cloud.Source}");
        Assert.Equal("0000000000000000006", cloud["sequence"]);
        Assert.Equal("application/json", cloud.DataContentType);
        Assert.Equal(
            "https://mudflat.example/104", ((JsonElement)cloud.Data!).GetProperty("url").GetString());
    }

    [Fact]
    public void A_reminder_is_told_in_the_history_of_the_publisher_and_names_what_it_is_about()
    {
        var cloud = Decode(CloudEnvelope.Write(
            SampleEvents.Of("task.due")!, new Uri("https://releases.example.com/kit/")));

        Assert.Equal("https://releases.example.com/kit/v1/publisher", $"{cloud.Source}");
        Assert.Equal("/v1/tasks/019cb5c0-0000-7000-8000-000000000004", cloud.Subject);
    }

    [Fact]
    public void The_SDK_writes_the_same_members_as_we_do()
    {
        var body = CloudEnvelope.Write(SampleEvents.Of("stage.completed")!, Service);

        var written = new JsonEventFormatter().EncodeStructuredModeMessage(Decode(body), out var type);

        Assert.Equal(body.MediaType, $"{type}", ignoreCase: true);
        Assert.True(JsonNode.DeepEquals(JsonNode.Parse(body.Bytes), JsonNode.Parse(written.Span)));
    }

    [Fact]
    public void What_would_be_too_large_loses_its_long_texts_and_says_where_they_are()
    {
        var sample = SampleEvents.Of("stage.blocked")!;
        sample.Data["note"] = string.Concat(Enumerable.Repeat("\u0001🦀", 4_000));

        var plain = PlainEvent.Write(sample).Bytes;
        var data = JsonNode.Parse(plain)!["data"]!;

        Assert.InRange(plain.Length, 1, 20_480);
        Assert.InRange(CloudEnvelope.Write(sample, Service).Bytes.Length, 1, 20_480);
        Assert.Equal("[\"note\"]", data["omitted"]!.ToJsonString());
        Assert.Equal("/v1/releases/019cb5c0-0000-7000-8000-000000000002", data["href"]!.GetValue<string>());
        Assert.Null(data["note"]);
        Assert.Equal("Eelgrass, counted by hand", data["release"]!["title"]!.GetValue<string>());
    }

    [Fact]
    public void What_fits_is_told_whole()
    {
        var sample = SampleEvents.Of("stage.blocked")!;
        sample.Data["note"] = new string('é', 4_000);

        Assert.Contains(new string('é', 4_000), Encoding.UTF8.GetString(PlainEvent.Write(sample).Bytes));
    }

    private static CloudEvent Decode(MessageBody body) =>
        new JsonEventFormatter().DecodeStructuredModeMessage(
            body.Bytes, new ContentType(body.MediaType), Sequence.AllAttributes);
}
