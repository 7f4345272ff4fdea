using System.Globalization;
using System.Text.RegularExpressions;
using Fluid;
using Fluid.Values;
using Releasekit.Server.Events;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// The part of Liquid that templates may use: no files, no counters that outlive a line, and no ranges, which are built
/// whole in memory before a limit is looked at.
/// </summary>
internal static partial class TemplateLanguage
{
    /// <summary>The parser calls itself for each of these, and a stack that runs over ends the process.</summary>
    private const int MostTags = 200;
    private const int MostBrackets = 100;

    private static readonly string[] Tags =
    [
        "assign", "break", "capture", "case", "comment", "continue", "echo", "for", "if", "raw", "unless", "#",
    ];

    private static readonly FluidParser Parser = Limited(new FluidParser());
    private static readonly TemplateOptions ForJson = OptionsOf(isJson: true);
    private static readonly TemplateOptions ForText = OptionsOf(isJson: false);

    /// <summary>Null with the first fault.</summary>
    public static IFluidTemplate? TryParse(string source, out TemplateFault? fault)
    {
        fault = FaultOfSize(source);

        if (fault is not null)
        {
            return null;
        }

        if (!Parser.TryParse(source, out var template, out var error))
        {
            fault = Worded(error);
            return null;
        }

        fault = TemplateRules.FaultOf(template, source);
        return fault is null ? template : null;
    }

    /// <summary>Everything a template sees.</summary>
    /// <param name="missing">Told every name that is asked for and not there.</param>
    public static TemplateContext ContextOf(EnvelopeBody told, TemplateMedia media, Action<string> missing)
    {
        var context = new TemplateContext(media.IsJson ? ForJson : ForText)
        {
            // Now is when the event was recorded, so that a message that is sent again says the same.
            Now = () => told.Timestamp.ToDateTimeOffset(),
            Undefined = name =>
            {
                missing(name);
                return new(NilValue.Instance);
            },
            Captured = (_, value, _) => Checked(value),
        };
        context.SetValue("id", new StringValue(told.Id));
        context.SetValue("type", new StringValue(told.Type));
        context.SetValue("timestamp", new StringValue(
            NodaTime.Text.InstantPattern.ExtendedIso.Format(told.Timestamp)));
        context.SetValue("data", EventMembers.Of(told.Data, "data", missing));
        new TemplateLimits(TimeProvider.System).Govern(context);

        return context;
    }

    private static ValueTask<FluidValue> Checked(FluidValue value)
    {
        TemplateLimits.CheckLength(value.ToStringValue().Length);
        return new(value);
    }

    private static FluidParser Limited(FluidParser parser)
    {
        foreach (var tag in parser.RegisteredTags.Keys.Except(Tags).ToArray())
        {
            parser.RegisteredTags.Remove(tag);
        }

        return parser;
    }

    private static TemplateOptions OptionsOf(bool isJson)
    {
        var options = new TemplateOptions
        {
            MaxSteps = TemplateLimits.Steps,
            ModelNamesComparer = StringComparer.Ordinal,
            CultureInfo = CultureInfo.InvariantCulture,
            TimeZone = TimeZoneInfo.Utc,
        };
        TemplateFilters.Limit(options.Filters, isJson);

        return options;
    }

    private static TemplateFault? FaultOfSize(string source)
    {
        if (source.Length is 0 or > TemplateLimits.LongestSource)
        {
            return new($"A template has 1 to {TemplateLimits.LongestSource} characters.");
        }

        var tags = Regex.Count(source, "{%");
        var brackets = source.Count(c => c is '[');

        return tags > MostTags ? new($"A template may have {MostTags} tags {{% %}} at most; this one has {tags}.")
            : brackets > MostBrackets ? new($"A template may have {MostBrackets} brackets [ at most.")
            : null;
    }

    private static TemplateFault Worded(string error) => Place().Match(error) is { Success: true } found
        ? new(
            $"{found.Groups["what"].Value}.",
            int.Parse(found.Groups["line"].ValueSpan, CultureInfo.InvariantCulture),
            int.Parse(found.Groups["column"].ValueSpan, CultureInfo.InvariantCulture))
        : new(error);

    [GeneratedRegex(@"\A(?<what>[^\n]*) at \((?<line>\d+):(?<column>\d+)\)")]
    private static partial Regex Place();
}
