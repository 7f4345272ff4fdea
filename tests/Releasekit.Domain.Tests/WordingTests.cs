namespace Releasekit.Domain.Tests;

public sealed class WordingTests
{
    [Theory]
    [InlineData("No. 12: ebb & flow — część 2 🌊", true)]
    [InlineData("مَدّ وجزر", true)]
    [InlineData(null, false)]
    [InlineData("   ", false)]
    [InlineData("two\nlines", false)]
    [InlineData("two\u2029lines", false)]
    [InlineData("tab\tbed", false)]
    [InlineData("nul\0", false)]
    [InlineData("\u202Etfel", false)]
    [InlineData("\u2067tfel", false)]
    public void A_line_is_one_visible_line(string? text, bool isFine) =>
        Assert.Equal(isFine, Wording.FaultOfLine(text, "A title") is null);

    [Fact]
    public void Half_a_character_is_found_wherever_it_stands() => Assert.All(
        ["\ud83c", "a\udf0a", "\ud83c\ud83c\udf0a"],
        text => Assert.Contains("half a character", Wording.FaultOfLine(text, "A title"), StringComparison.Ordinal));

    [Theory]
    [InlineData(Wording.LongestTitle, true)]
    [InlineData(Wording.LongestTitle + 1, false)]
    public void A_title_has_two_hundred_characters_at_most(int length, bool isFine) =>
        Assert.Equal(isFine, Wording.FaultOfLine(new string('a', length), "A title") is null);

    [Theory]
    [InlineData(null, true)]
    [InlineData("", true)]
    [InlineData("two\r\nlines\tand a tab\u2028", true)]
    [InlineData("bell\u0007", false)]
    [InlineData("next line\u0085", false)]
    public void A_note_may_have_lines_and_tabs(string? text, bool isFine) =>
        Assert.Equal(isFine, Wording.FaultOfText(text, "A note") is null);

    [Theory]
    [InlineData("rough-cut", true)]
    [InlineData("2", true)]
    [InlineData("", false)]
    [InlineData(null, false)]
    [InlineData("-a", false)]
    [InlineData("a-", false)]
    [InlineData("a--b", false)]
    [InlineData("Aa", false)]
    [InlineData("ä", false)]
    [InlineData("a/b", false)]
    public void A_key_is_lower_case_with_single_hyphens(string? key, bool isFine) =>
        Assert.Equal(isFine, Wording.FaultOfKey(key, "A key") is null);

    [Theory]
    [InlineData("Links checked", "links-checked")]
    [InlineData("  Ça va? Déjà!  ", "ca-va-deja")]
    [InlineData("Прилив", "item")]
    [InlineData("", "item")]
    public void A_key_is_made_from_a_text(string text, string key) => Assert.Equal(key, Wording.KeyOf(text));

    [Fact]
    public void Every_text_gives_a_key() => Assert.All(
        ["\ud83c", "a\ud83c b", new string('x', 500), new string('-', 99), $"{new string('x', 63)} y"],
        text => Assert.Null(Wording.FaultOfKey(Wording.KeyOf(text), "A key")));
}
