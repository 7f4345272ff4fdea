using System.Text.RegularExpressions;
using Fluid;
using Fluid.Values;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// The filters of Liquid that templates may use: those for texts, numbers and dates. Those that could make a long text
/// out of short ones are looked at before they run, every other one after.
/// </summary>
internal static partial class TemplateFilters
{
    /// <summary>Sorted, for the refusal that lists them.</summary>
    public static readonly IReadOnlyList<string> Names =
    [
        "abs", "append", "at_least", "at_most", "base64_encode", "capitalize", "ceil", "date", "default",
        "divided_by", "downcase", "escape", "escape_once", "first", "floor", "json", "last", "lstrip", "minus",
        "modulo", "newline_to_br", "plus", "prepend", "remove", "remove_first", "replace", "replace_first", "round",
        "rstrip", "size", "slice", "split", "strip", "strip_html", "strip_newlines", "time_zone", "times", "truncate",
        "truncatewords", "upcase", "url_decode", "url_encode",
    ];

    /// <summary>Leaves only these, each with its limits.</summary>
    /// <param name="isJson">Whether what "json" makes stands in JSON as it is.</param>
    public static void Limit(FilterCollection filters, bool isJson)
    {
        var offered = Names.ToDictionary(
            name => name,
            name => filters.TryGetValue(name, out var filter)
                ? filter : throw new InvalidOperationException($"The library has no filter '{name}' any more."));
        filters.Clear();

        foreach (var (name, filter) in offered)
        {
            filters.AddFilter(name, Limited(filter, name, isJson));
        }
    }

    private static FilterDelegate Limited(FilterDelegate filter, string name, bool isJson) =>
        async (input, arguments, context) =>
        {
            TemplateLimits.BudgetOf(context).CheckTime();

            switch (name)
            {
                case "replace":
                    CheckReplace(input.ToStringValue(), arguments);
                    break;
                case "date":
                    CheckDate(arguments.At(0).ToStringValue());
                    break;
            }

            var result = await filter(input, arguments, context);

            if (result.Type is FluidValues.String)
            {
                TemplateLimits.CheckLength(result.ToStringValue().Length);
            }

            return name is "json" && isJson ? new StringValue(result.ToStringValue(), encode: false) : result;
        };

    private static void CheckReplace(string text, FilterArguments arguments)
    {
        var (found, put) = (arguments.At(0).ToStringValue(), arguments.At(1).ToStringValue());
        var times = found.Length == 0 ? text.Length + 1 : (text.Length / found.Length) + 1;

        // A bound that is cheap to tell; only where it is not enough the text is searched.
        if (text.Length + ((long)times * put.Length) > TemplateLimits.LongestValue)
        {
            times = found.Length == 0 ? times : Regex.Count(text, Regex.Escape(found));
            TemplateLimits.CheckLength(text.Length + ((long)times * put.Length) - ((long)times * found.Length));
        }
    }

    /// <summary>A width in a date's format pads to that many characters.</summary>
    private static void CheckDate(string format)
    {
        if (Width().IsMatch(format))
        {
            throw new TemplateLimitException("A width in the format of a date has two digits at most.");
        }

        TemplateLimits.CheckLength(format.Length * 8L);
    }

    [GeneratedRegex(@"%[^a-zA-Z%]*[0-9]{3}")]
    private static partial Regex Width();
}
