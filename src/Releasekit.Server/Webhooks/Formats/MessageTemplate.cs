using System.Text;
using System.Text.Json;
using Fluid;
using Releasekit.Domain;
using Releasekit.Domain.Webhooks;
using Releasekit.Server.Events;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// A body that the owner of an endpoint writes: a Liquid template over one event, for receivers that expect a form of
/// their own. It sees <c>id</c>, <c>type</c>, <c>timestamp</c> and <c>data</c> of the event and nothing else, and what
/// it inserts is escaped for the media type it is sent as.
/// </summary>
internal sealed class MessageTemplate
{
    private readonly IFluidTemplate _template;
    private readonly TemplateMedia _media;

    private MessageTemplate(IFluidTemplate template, TemplateMedia media) => (_template, _media) = (template, media);

    /// <summary>Reads a template; null with a refusal that says where the fault is.</summary>
    /// <param name="mediaType">What the body is sent as, such as <c>text/plain</c>.</param>
    /// <param name="refusal">Members <c>/template</c> and <c>/mediaType</c>.</param>
    public static MessageTemplate? TryParse(string source, string? mediaType, out Refusal? refusal)
    {
        var media = TemplateMedia.TryParse(mediaType);
        var template = TemplateLanguage.TryParse(source, out var fault);
        var faults = new List<Fault>();

        if (media is null)
        {
            faults.Add(new("/mediaType", TemplateMedia.Offer));
        }

        if (fault is not null)
        {
            faults.Add(new("/template", fault.ToString()));
        }

        refusal = faults.Count > 0 ? WebhookRefusals.Of(faults) : null;
        return refusal is null ? new(template!, media!) : null;
    }

    /// <summary>Fills the template with an event. The same event gives the same bytes.</summary>
    public async Task<TemplateAnswer> Render(EnvelopeBody told)
    {
        var missing = new SortedSet<string>(StringComparer.Ordinal);
        var context = TemplateLanguage.ContextOf(told, _media, name => missing.Add(name));
        using var text = new BoundedText(TemplateLimits.BudgetOf(context));

        try
        {
            await _template.RenderAsync(text, _media.Encoder, context);
        }
        catch (Exception failure) when (FaultOf(failure) is { } reason)
        {
            return new(null, new(reason), [.. missing]);
        }

        var bytes = Encoding.UTF8.GetBytes(text.ToString());

        return FaultOfForm(bytes) is { } fault
            ? new(null, fault, [.. missing])
            : new(new(bytes, _media.Written), null, [.. missing]);
    }

    /// <summary>
    /// What went wrong, for the owner; null for what no template is to blame for. The library tells its limit of steps
    /// as an invalid operation.
    /// </summary>
    private static string? FaultOf(Exception failure) => failure switch
    {
        TemplateLimitException limit => limit.Message,
        InvalidOperationException => $"The template takes more than {TemplateLimits.Steps} steps.",
        DivideByZeroException => "The template divides by zero.",
        OutOfMemoryException => null,
        _ => $"The template cannot be filled: {failure.Message}",
    };

    private TemplateFault? FaultOfForm(byte[] bytes)
    {
        if (!_media.IsJson)
        {
            return null;
        }

        try
        {
            using var _ = JsonDocument.Parse(bytes);
            return null;
        }
        catch (JsonException odd)
        {
            return new(
                "What the template makes is no JSON; the place is in the result.",
                (int)(odd.LineNumber ?? 0) + 1, (int)(odd.BytePositionInLine ?? 0) + 1);
        }
    }
}

/// <summary>What a template makes of an event.</summary>
/// <param name="Body">Null when it cannot be filled.</param>
/// <param name="Fault">Why not.</param>
/// <param name="Missing">Names in the template that this event does not have; they came out empty.</param>
internal sealed record TemplateAnswer(MessageBody? Body, TemplateFault? Fault, IReadOnlyList<string> Missing);

/// <summary>What is wrong with a template, and where.</summary>
/// <param name="Line">Counts from 1; null where no one place is at fault.</param>
/// <param name="Column">Counts from 1.</param>
internal sealed record TemplateFault(string Reason, int? Line = null, int? Column = null)
{
    public override string ToString() => Line is null ? Reason : $"Line {Line}, column {Column}: {Reason}";
}
