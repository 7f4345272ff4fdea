using Releasekit.Domain.Statistics;

namespace Releasekit.Domain.Tests.Statistics;

public sealed class GapFiguresTests
{
    private static readonly LocalDateTime Origin = new(2024, 1, 1, 9, 0);

    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "a.gaps.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void Regularity_is_that_of_the_check_value(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);
        Publication[] publications = [.. check.Inputs.Numbers("publication_days").Select(Published)];

        var gaps = GapFigures.Between(publications, []);
        var figures = GapFigures.Of(gaps);

        if (check.Expected.TryGetProperty("gaps", out _))
        {
            Assert.Equal(check.Expected.Numbers("gaps"), gaps);
        }

        Assert.Equal(check.Expected.GetProperty("n").GetInt32(), figures.N);
        check.AssertNear(check.Expected.GetProperty("mean"), figures.MeanDays);
        check.AssertNear(check.Expected.GetProperty("sd"), figures.SdDays);
        check.AssertNear(check.Expected.GetProperty("cv"), figures.Cv);
        check.AssertNear(check.Expected.GetProperty("median"), figures.MedianDays);
        check.AssertNear(check.Expected.GetProperty("mad_1_4826"), figures.MadDays);
    }

    [Fact]
    public void Publications_at_the_same_moment_have_no_coefficient_of_variation() =>
        Assert.Equal(new GapFigures(2, 0, 0, null, 0, 0), GapFigures.Of([0, 0]));

    [Fact]
    public void A_gap_that_spans_a_break_is_left_out()
    {
        Publication[] publications = [Published(0), Published(7), Published(28), Published(35)];
        var breakWeek = Origin.Date.PlusDays(14);

        Assert.Equal([7, 7], GapFigures.Between(publications, [breakWeek, breakWeek.PlusDays(7)]));
    }

    [Fact]
    public void An_extra_published_on_an_excused_date_bounds_its_gaps() =>
        Assert.Equal([7, 7], GapFigures.Between(
            [Published(0), Published(7), Published(14)], [Origin.Date.PlusDays(7)]));

    private static Publication Published(double days)
    {
        var local = Origin.PlusTicks((long)(days * NodaConstants.TicksPerDay));
        return new Publication(Guid.NewGuid(), local.InUtc().ToInstant(), local, null);
    }
}
