using Releasekit.Domain.Search;

namespace Releasekit.Domain.Tests.Search;

/// <summary>What counts as a word, and what as the same one.</summary>
public sealed class SearchWordsTests
{
    /// <summary>Compatibility decompositions are those of the Unicode standard, annex 15 (from memory).</summary>
    [Theory]
    [InlineData("Praía da MARÉ", "praia da mare")]
    [InlineData("ﬁeld-notes, No. 12", "field notes no 12")]
    [InlineData("Straße Ørsted", "straße ørsted")]
    [InlineData("Приливы и ОТЛИВЫ", "приливы и отливы")]
    [InlineData("潮汐 表", "潮汐 表")]
    [InlineData("e\u0301bb", "ebb")]
    [InlineData("𝔗ide", "tide")]
    [InlineData("!?… — ", "")]
    public void Case_and_marks_do_not_matter(string text, string words) =>
        Assert.Equal(words, string.Join(' ', SearchWords.Of(text)));

    [Fact]
    public void Halves_of_characters_do_no_harm() =>
        Assert.Equal(["tide", "x"], SearchWords.Of("tide \uD83D x\uDE00"));
}
