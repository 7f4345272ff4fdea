using Releasekit.Domain.Search;

namespace Releasekit.Domain.Tests.Search;

/// <summary>How far apart two words are.</summary>
public sealed class TypingErrorsTests
{
    /// <summary>Cases that textbooks give for Levenshtein and for optimal string alignment; from memory.</summary>
    [Theory]
    [InlineData("kitten", "sitting", 3)]
    [InlineData("saturday", "sunday", 3)]
    [InlineData("ca", "abc", 3)]
    [InlineData("tide", "tied", 1)]
    [InlineData("", "mud", 3)]
    [InlineData("mud", "mud", 0)]
    public void Published_distances_are_met(string one, string other, int distance)
    {
        Assert.Equal(distance, TypingErrors.Between(one, other));
        Assert.Equal(distance, TypingErrors.Between(other, one));
    }

    [Fact]
    public void It_is_what_the_recursive_definition_says()
    {
        var random = new Random(7);

        for (var round = 0; round < 2_000; round++)
        {
            var (one, other) = (Word(random), Word(random));

            Assert.Equal(ByDefinition(one, other), TypingErrors.Between(one, other));
        }
    }

    [Theory]
    [InlineData("eelgras", "eelgrass", true)]
    [InlineData("estaury", "estuary", true)]
    [InlineData("tied", "tide", true)]
    [InlineData("harbor", "harbour", true)]
    [InlineData("estau", "estuaries", true)]
    [InlineData("mix", "mud", false)]
    [InlineData("at", "it", false)]
    [InlineData("tide", "tune", false)]
    public void One_error_in_a_short_word_two_in_a_longer_one(string typed, string word, bool mayMean) =>
        Assert.Equal(mayMean, TypingErrors.MayMean(typed, word));

    private static string Word(Random random) =>
        string.Concat(Enumerable.Range(0, random.Next(0, 6)).Select(_ => "abc"[random.Next(3)]));

    private static int ByDefinition(string one, string other)
    {
        if (one.Length == 0 || other.Length == 0)
        {
            return one.Length + other.Length;
        }

        var best = Math.Min(
            Math.Min(ByDefinition(one[..^1], other), ByDefinition(one, other[..^1])) + 1,
            ByDefinition(one[..^1], other[..^1]) + (one[^1] == other[^1] ? 0 : 1));
        var isSwapped = one.Length > 1 && other.Length > 1 && one[^1] == other[^2] && one[^2] == other[^1];

        return isSwapped ? Math.Min(best, ByDefinition(one[..^2], other[..^2]) + 1) : best;
    }
}
