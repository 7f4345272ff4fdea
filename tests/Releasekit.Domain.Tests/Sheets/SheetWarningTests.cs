using Releasekit.Domain.Sheets;

namespace Releasekit.Domain.Tests.Sheets;

/// <summary>What the sheets warn of, in the words they say it in.</summary>
public class SheetWarningTests
{
    /// <summary>
    /// Ten hours of work before Thursday 5 March, 07:00. On Wednesday at 13:00 four hours of it are left: six short.
    /// </summary>
    [Fact]
    public void A_slot_that_cannot_be_met_is_told_with_the_hours_short()
    {
        var notebook = new Notebook();
        notebook.Plan("Eelgrass", new LocalDate(2026, 3, 5), Notebook.LongAgo);

        var warning = Assert.Single(
            WarningsAt(notebook, Instant.FromUtc(2026, 3, 4, 13, 0)), one => one.Kind is WarningKind.Shortfall);

        Assert.Equal(Duration.FromHours(6), warning.Shortfall);
        Assert.Equal("will miss Thursday 5 March: at least 6 h of work too much.", warning.Text);
    }

    [Fact]
    public void What_has_passed_is_overdue_and_no_longer_said_to_miss()
    {
        var notebook = new Notebook();
        notebook.Plan("Eelgrass", new LocalDate(2026, 3, 5), Notebook.LongAgo);

        var warnings = WarningsAt(notebook, Instant.FromUtc(2026, 3, 6, 12, 0));

        Assert.DoesNotContain(warnings, one => one.Kind is WarningKind.Shortfall);
        Assert.Contains(warnings, one => one.Kind is WarningKind.Overdue
            && one.Text == "was promised for Thursday 5 March and is not out yet.");
    }

    [Fact]
    public void Slots_without_a_release_are_told_in_one_sentence_for_a_series()
    {
        var warning = Assert.Single(
            WarningsAt(new Notebook(), Instant.FromUtc(2026, 3, 4, 13, 0)), one => one.Kind is WarningKind.Unplanned);

        Assert.Equal("has nothing planned for Thursday 5 March yet, nor for 1 slot within two weeks.", warning.Text);
    }

    private static IReadOnlyList<SheetWarning> WarningsAt(Notebook notebook, Instant now) =>
        MonthSheet.Of(notebook.At(now), new LocalDate(2026, 3, 1)).Warnings;
}
