using System.Diagnostics;
using System.Text;
using System.Text.Json.Nodes;
using Releasekit.Server.Events;
using Releasekit.Server.Webhooks.Formats;

namespace Releasekit.Server.Tests.Webhooks.Formats;

/// <summary>
/// Bodies that owners write in Liquid. What a filter makes: the reference documentation of Liquid (from memory); what
/// may be taken is ours.
/// </summary>
public class MessageTemplateTests
{
    public static TheoryData<string> Types => [.. Messages.Types];

    [Theory]
    [InlineData("text/plain", "{{ data.release.title }} is out: {{ data.url }}",
        "Eelgrass, counted by hand is out: https://mudflat.example/104")]
    [InlineData("text/markdown", "**{{ data.stage.name | upcase }}** {{ type }} {{ data.sequence | plus: 1 }}",
        "**PUBLISH** release.published 7")]
    [InlineData("text/plain", "{{ timestamp | time_zone: 'Asia/Tokyo' | date: '%d.%m.%Y %H:%M' }}", "05.03.2026 03:30")]
    [InlineData("text/plain", "{{ 'now' | date: '%Y-%m-%d' }}", "2026-03-04")]
    [InlineData("text/plain", "{% assign n = data.release.title | split: ', ' %}{% for p in n %}[{{ p }}]{% endfor %}",
        "[Eelgrass][counted by hand]")]
    [InlineData("text/plain", "{% if data.note %}{{ data.note }}{% else %}-{% endif %}", "-")]
    [InlineData("application/json", "{\"text\": {{ data.release.title | json }}, \"n\": {{ data.sequence }}}",
        "{\"text\": \"Eelgrass, counted by hand\", \"n\": 6}")]
    public async Task A_template_says_an_event_in_the_words_of_its_receiver(
        string mediaType, string source, string expected)
    {
        var answer = await Parse(source, mediaType).Render(SampleEvents.Of("release.published")!);

        Assert.Null(answer.Fault);
        Assert.Equal(expected, Encoding.UTF8.GetString(answer.Body!.Bytes));
        Assert.Equal($"{mediaType}; charset=utf-8", answer.Body.MediaType);
    }

    [Theory]
    [InlineData("application/json", "{\"a\":\"{{ data.release.title }}\",\"b\":{{ data.release.title | json }}}")]
    [InlineData("application/vnd.example+json", "[\"{{ data.release.title }}\"]")]
    [InlineData("application/x-www-form-urlencoded", "text={{ data.release.title }}&end=1")]
    [InlineData("text/html", "<p title=\"{{ data.release.title }}\">{{ data.release.title }}</p>")]
    [InlineData("text/plain", "{{ data.release.title }}")]
    public async Task What_is_inserted_cannot_break_out_of_the_form(string mediaType, string source)
    {
        const string title = "\"},{\"x\\\":<b a='1'>&end=2\u2028 é";
        var told = SampleEvents.Of("release.planned")!;
        told.Data["release"]!["title"] = title;

        var answer = await Parse(source, mediaType).Render(told);

        Assert.Null(answer.Fault);
        var text = Encoding.UTF8.GetString(answer.Body!.Bytes);

        switch (mediaType)
        {
            case "text/plain":
                Assert.Equal(title, text);
                break;
            case "text/html":
                Assert.DoesNotContain("<b", text);
                Assert.Equal(2, text.Count(c => c is '"'));
                Assert.Equal($"<p title=\"{title}\">{title}</p>", System.Net.WebUtility.HtmlDecode(text));
                break;
            case "application/x-www-form-urlencoded":
                var fields = Microsoft.AspNetCore.WebUtilities.QueryHelpers.ParseQuery(text);
                Assert.Equal(title, fields["text"]);
                Assert.Equal("1", fields["end"]);
                break;
            default:
                var json = JsonNode.Parse(text)!;
                Assert.All(
                    json is JsonArray items ? items : json.AsObject().Select(member => member.Value),
                    value => Assert.Equal(title, value!.GetValue<string>()));
                break;
        }
    }

    [Theory]
    [MemberData(nameof(Types))]
    public async Task A_template_can_be_tried_on_every_type_and_says_what_it_lacks(string type)
    {
        var template = Parse("{{ type }} {{ data.sequence }} {{ data.relase.title }} {{ tide }}", "text/plain");

        var answer = await template.Render(SampleEvents.Of(type)!);

        Assert.Equal(["data.relase", "tide"], answer.Missing);
        Assert.StartsWith(type, Encoding.UTF8.GetString(answer.Body!.Bytes), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("It is\n  {{ data.title", 2, "'}}' was expected")]
    [InlineData("{% if type %}\n\nyes", 3, "endif")]
    [InlineData("a\nb {% tide %}", 2, "tide")]
    [InlineData("a\nb\n{{ type | shout }}", 3, "'shout'")]
    [InlineData("{% if false %}\n{{ type | upcase | shout: 1 }}{% endif %}", 2, "'shout'")]
    [InlineData("a\n{% for i in (1..3) %}{% endfor %}", 2, "Ranges")]
    [InlineData("a\n{% include 'passwd' %}", 2, "include")]
    [InlineData("a\n{% render 'passwd' %}", 2, "render")]
    [InlineData("{% liquid\nassign a = 1\n%}", 1, "liquid")]
    public void A_fault_is_told_with_its_place(string source, int line, string expected)
    {
        Assert.Null(MessageTemplate.TryParse(source, "text/plain", out var refusal));

        var fault = Assert.Single(refusal!.Faults);
        Assert.Equal("/template", fault.Member);
        Assert.Matches($"^Line {line}, column [0-9]+: ", fault.Reason);
        Assert.Contains(expected, fault.Reason, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', fault.Reason);
    }

    [Theory]
    [InlineData("text/plain; charset=UTF-8", true)]
    [InlineData("Application/JSON", true)]
    [InlineData("text/plain; charset=utf-16", false)]
    [InlineData("text/plain; x=1", false)]
    [InlineData("text/*", false)]
    [InlineData("image/png", false)]
    [InlineData("multipart/form-data", false)]
    [InlineData("text/plain\r\nX-Tide: high", false)]
    [InlineData("", false)]
    [InlineData(null, false)]
    public void The_media_type_is_one_of_text_in_UTF_8(string? mediaType, bool expected)
    {
        Assert.Equal(expected, MessageTemplate.TryParse("x", mediaType, out var refusal) is not null);
        Assert.Equal(expected ? null : "/mediaType", refusal?.Faults.Single().Member);
    }

    [Theory]
    [InlineData("{\"text\": \"{{ type }}\"", 1)]
    [InlineData("{\n\"text\": {{ type }}}", 2)]
    public async Task What_is_sent_as_JSON_is_JSON(string source, int line)
    {
        var answer = await Parse(source, "application/json").Render(SampleEvents.Of("task.due")!);

        Assert.Null(answer.Body);
        Assert.Equal(line, answer.Fault!.Line);
    }

    [Theory]
    [InlineData("{% assign a = 'aaaaaaaaaa' %}@18{% assign a = a | append: a %}@", "16384")]
    [InlineData("{% assign a = 'aaaaaaaaaa' %}@9{% assign a = a | append: a %}@{{ a | replace: 'a', a }}", "16384")]
    [InlineData("{% assign a = 'aaaaaaaaaa' %}@9{% assign a = a | append: a %}@{{ a | replace: '', a }}", "16384")]
    [InlineData("{{ type | date: '%100000000d' }}{{ timestamp | date: '%100000000d' }}", "two digits")]
    [InlineData("{% assign a = 'aaaaaaaaaa' %}@10{% assign a = a | append: a %}@{% capture b %}{{ a }}{{ a }}"
        + "{% endcapture %}", "16384")]
    [InlineData("{% assign a = 'aaaaaaaaaa' %}@10{% assign a = a | append: a %}@{{ a }}{{ a }}{{ a }}", "20480")]
    [InlineData("{% assign a = 'a,a,a,a,a,a,a,a,a,a' | split: ',' %}{% for x in a %}{% for y in a %}{% for z in a %}"
        + "{% for w in a %}{% assign q = 1 %}{% endfor %}{% endfor %}{% endfor %}{% endfor %}", "1000 steps")]
    [InlineData("{{ 1 | divided_by: 0 }}", "zero")]
    [InlineData("{{ 79228162514264337593543950335 | plus: 1 }}", "cannot be filled")]
    public async Task A_template_that_takes_too_much_is_stopped_before_it_hurts(string source, string expected)
    {
        var parts = source.Split('@');
        var times = parts.Length == 1 ? 0 : int.Parse(
            parts[1][..parts[1].IndexOf('{')], System.Globalization.CultureInfo.InvariantCulture);
        var template = Parse(
            parts.Length == 1 ? source
                : parts[0] + string.Concat(Enumerable.Repeat(parts[1][parts[1].IndexOf('{')..], times)) + parts[2],
            "text/plain");
        await template.Render(SampleEvents.Of("task.due")!);
        var (before, clock) = (GC.GetTotalAllocatedBytes(), Stopwatch.StartNew());

        var answer = await template.Render(SampleEvents.Of("task.due")!);

        Assert.Contains(expected, answer.Fault?.Reason ?? "none", StringComparison.Ordinal);
        Assert.Null(answer.Body);
        Assert.InRange(clock.Elapsed, TimeSpan.Zero, TimeSpan.FromSeconds(2));
        Assert.InRange(GC.GetTotalAllocatedBytes() - before, 0, 100_000_000);
    }

    [Theory]
    [InlineData("{%if a%}", 200)]
    [InlineData("{% for a in a %}", 200)]
    [InlineData("{% comment %}", 200)]
    [InlineData("{%if a%}", 201)]
    [InlineData("{{ a[", 100)]
    [InlineData("a[", 101)]
    [InlineData("x", 10_001)]
    [InlineData("x", 0)]
    public void A_template_that_nests_deeply_is_refused_and_does_not_end_the_process(string piece, int times)
    {
        // A stack that runs over cannot be caught; a thread of the pool has half as much again as this one.
        string? reason = null;
        var source = (piece is "a[" ? "{{ " : "") + string.Concat(Enumerable.Repeat(piece, times));
        var thread = new Thread(() =>
        {
            MessageTemplate.TryParse(source, "text/plain", out var refusal);
            reason = refusal?.Reason;
        }, 1 << 20);

        thread.Start();
        thread.Join();

        Assert.NotNull(reason);
    }

    [Theory]
    [InlineData("x", 9_960, "x", 10_520, true)]
    [InlineData("x", 9_960, "x", 10_521, false)]
    [InlineData("é", 4_980, "🦀", 2_630, true)]
    [InlineData("é", 4_980, "🦀", 2_631, false)]
    public async Task A_body_has_20480_bytes_at_most(string own, int ownTimes, string note, int times, bool expected)
    {
        var told = SampleEvents.Of("stage.blocked")!;
        told.Data["note"] = string.Concat(Enumerable.Repeat(note, times));

        var answer = await Parse(string.Concat(Enumerable.Repeat(own, ownTimes)) + "{{ data.note }}", "text/plain")
            .Render(told);

        Assert.Equal(expected, answer.Body is not null);
    }

    [Fact]
    public async Task Nesting_at_the_limit_is_filled_too()
    {
        var source = string.Concat(Enumerable.Repeat("{%if type%}", 100)) + "x"
            + string.Concat(Enumerable.Repeat("{%endif%}", 100));

        var answer = await Parse(source, "text/plain").Render(SampleEvents.Of("task.due")!);

        Assert.Equal("x", Encoding.UTF8.GetString(answer.Body!.Bytes));
    }

    private static MessageTemplate Parse(string source, string mediaType)
    {
        var template = MessageTemplate.TryParse(source, mediaType, out var refusal);
        Assert.True(template is not null, refusal?.Reason);

        return template;
    }
}
