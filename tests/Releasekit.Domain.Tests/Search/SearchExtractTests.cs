using Releasekit.Domain.Search;

namespace Releasekit.Domain.Tests.Search;

/// <summary>The part of a text that is shown with a hit.</summary>
public sealed class SearchExtractTests
{
    [Fact]
    public void Hits_are_marked_in_the_text_as_it_was_written()
    {
        var pieces = SearchExtract.Of("Low tide,\n\thigh TIDE", word => word == "tide");

        Assert.Equal(
            [new("Low ", false), new("tide", true), new(", high ", false), new("TIDE", true)], pieces);
    }

    [Fact]
    public void A_long_text_is_cut_around_its_first_hit()
    {
        var text = string.Join(' ', [.. Enumerable.Repeat("mud", 100), "eelgrass", .. Enumerable.Repeat("sand", 100)]);

        var pieces = SearchExtract.Of(text, word => word == "eelgrass");
        var shown = string.Concat(pieces.Select(piece => piece.Text));

        Assert.Equal("eelgrass", Assert.Single(pieces, piece => piece.IsHit).Text);
        Assert.StartsWith("…mud mud", shown);
        Assert.EndsWith("sand…", shown);
        Assert.InRange(shown.Length, 100, 200);
    }

    [Fact]
    public void Pieces_are_a_stretch_of_the_text_and_hold_the_first_hit_whatever_the_text_is()
    {
        var random = new Random(11);

        for (var round = 0; round < 5_000; round++)
        {
            var text = string.Concat(Enumerable.Range(0, random.Next(0, 120)).Select(_ => Token(random)));
            var flat = string.Join(' ', text.Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));

            var pieces = SearchExtract.Of(text, word => word == "tide");

            var shown = string.Concat(pieces.Select(piece => piece.Text).Where(piece => piece != "…"));
            Assert.Contains(shown, flat, StringComparison.Ordinal);
            Assert.All(pieces.Where(piece => piece.IsHit), piece => Assert.Equal("tide", SearchWords.Fold(piece.Text)));
            Assert.Equal(SearchWords.Of(flat).Contains("tide"), pieces.Any(piece => piece.IsHit));
            Assert.InRange(shown.Length, 0, 400);
        }
    }

    private static string Token(Random random) => random.Next(9) switch
    {
        0 => "tide ",
        1 => "\n",
        2 => "Tíde",
        3 => ", ",
        4 => "𝔗",
        5 => "mudflatmudflatmudflat",
        6 => "é ",
        _ => "sand ",
    };
}
