using System.Reflection;
using System.Text.Json;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Docs;

/// <summary>
/// GET /docs/statistics: what each figure says, in the publisher's words, with the demo's numbers. Those are read from
/// the demo of one day and kept beside the texts; a test reads them anew.
/// </summary>
internal static partial class ShowStatistics
{
    private static readonly Dictionary<string, string> Numbers = ReadNumbers();

    /// <summary>Names of the numbers that the texts use.</summary>
    public static IReadOnlySet<string> Used { get; } = StatisticsTexts.All
        .SelectMany(figure => figure.Paragraphs)
        .SelectMany(paragraph => Placeholder().Matches(paragraph))
        .Select(match => match.Groups[1].Value)
        .ToHashSet();

    public static void Map(IEndpointRouteBuilder pages) =>
        pages.MapGet("/docs/statistics", (HttpContext http) => All().Answer(http));

    private static Page All()
    {
        var page = new Page("Statistics").Open("p").Link("/docs", "All of the service").Close("p");
        page.Add("h1", "What the figures say").Add("p", StatisticsTexts.Lead, "class=\"lead\"").Open("nav");

        foreach (var figure in StatisticsTexts.All)
        {
            page.Link($"#{figure.Anchor}", figure.Title).Text(" ");
        }

        page.Close("nav");

        foreach (var figure in StatisticsTexts.All)
        {
            page.Add("h2", figure.Title, $"id=\"{figure.Anchor}\"");

            foreach (var paragraph in figure.Paragraphs)
            {
                page.Add("p", Placeholder().Replace(paragraph, match => Numbers[match.Groups[1].Value]));
            }

            page.Open("p", "class=\"fine\"").Add("code", figure.Address).Text(" ").Text(figure.Sources).Close("p");
        }

        return page;
    }

    private static Dictionary<string, string> ReadNumbers()
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream("demo-numbers.json")!;

        return JsonSerializer.Deserialize<Dictionary<string, string>>(stream)!;
    }

    [GeneratedRegex(@"\{(\w+)\}")]
    private static partial Regex Placeholder();
}

/// <summary>A figure, or some that belong together.</summary>
/// <param name="Address">Where it is read.</param>
/// <param name="Paragraphs">Names in braces are numbers of the demo.</param>
/// <param name="Sources">What it rests on.</param>
internal sealed record ExplainedFigure(
    string Anchor, string Title, string Address, string[] Paragraphs, string Sources);
