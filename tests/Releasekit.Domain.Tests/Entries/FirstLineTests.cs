using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Tests.Entries;

/// <summary>What a list shows of a longer text.</summary>
public sealed class FirstLineTests
{
    [Theory]
    [InlineData("Ask the harbour master\nHe has the tables.", "Ask the harbour master")]
    [InlineData("\r\n\n  First\tof all  \n", "First of all")]
    public void The_first_line_that_is_not_blank(string text, string line) => Assert.Equal(line, FirstLine.Of(text));

    [Fact]
    public void A_long_line_is_a_title_still_and_no_character_is_halved()
    {
        var line = FirstLine.Of(string.Concat(Enumerable.Repeat("🌊", 150)));

        Assert.Null(Wording.FaultOfLine(line, "A title"));
        Assert.EndsWith("🌊…", line);
    }
}
