using CsCheck;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Sheets;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Sheets;

/// <summary>Whatever stands in a notebook stands on its sheets, once, on the day it belongs to.</summary>
public class SheetPropertyTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 16, 12, 0);
    private static readonly LocalDate First = new(2026, 2, 26);

    private static readonly Gen<Notebook> Notebooks =
        from slots in Gen.Int[0, 12].HashSet[0, 8]
        from done in Gen.Int[0, 4].Array[8]
        from days in Gen.Int[-40, 40].Array[0, 20]
        from kinds in Gen.Enum<PeriodKind>().Array[20]
        select Make([.. slots], done, days, kinds);

    [Fact]
    public void Every_slot_and_every_task_for_a_day_stands_on_one_day_of_one_month() => Notebooks.Sample(notebook =>
    {
        var facts = notebook.At(Now);
        var months = Enumerable.Range(-3, 7).Select(i => new LocalDate(2026, 3, 1).PlusMonths(i)).ToArray();
        var days = months.SelectMany(month => MonthSheet.Of(facts, month).Days).ToArray();

        Assert.Equal(months.Sum(month => CalendarSystem.Iso.GetDaysInMonth(month.Year, month.Month)), days.Length);
        Assert.All(days, day => Assert.All(day.Slots, slot => Assert.Equal(day.Date, facts.DateOf(slot.At))));
        Assert.Equal(
            facts.Series[0].Slots.Select(slot => slot.Slot.Date),
            days.SelectMany(day => day.Slots).Select(slot => slot.Slot!.Value).Order());
        Assert.Equal(
            facts.Tasks.Where(task => task.When.Kind is PeriodKind.Day).Select(task => task.Id).Order(),
            days.SelectMany(day => day.Tasks).Select(task => task.Id).Order());
    });

    [Fact]
    public void The_weeks_of_a_month_hold_its_days_and_no_hour_is_given_twice() => Notebooks.Sample(notebook =>
    {
        var facts = notebook.At(Now);
        var weeks = Enumerable.Range(0, 6).Select(i => WeekSheet.Of(facts, new LocalDate(2026, 3, 16).PlusWeeks(i)));
        var sittings = weeks.SelectMany(week => week.Days).SelectMany(day => day.Sittings).ToArray();

        Assert.All(sittings.Zip(sittings.Skip(1)), pair => Assert.True(pair.First.To <= pair.Second.From));
        Assert.All(sittings, one => Assert.True(one.From >= Now && one.From < one.To));
        Assert.All(sittings, one => Assert.Equal(
            one.To - one.From, facts.Calendar.Between(one.From, one.To)));
    });

    [Fact]
    public void The_marks_of_a_matrix_are_the_states_of_the_stages() => Notebooks.Sample(notebook =>
    {
        var facts = notebook.At(Now);

        foreach (var row in MonthSheet.Of(facts, new LocalDate(2026, 3, 1)).Matrices.SelectMany(matrix => matrix.Rows))
        {
            var release = facts.Find(row.Release)!;
            Assert.Equal(
                release.Stages.Select(stage => (stage.Plan.Key, release.StateOf(stage))),
                row.Marks.Select(mark => (mark.Stage, mark.State)));
        }
    });

    private static Notebook Make(int[] slots, int[] done, int[] days, PeriodKind[] kinds)
    {
        var notebook = new Notebook
        {
            Tasks =
            [
                .. days.Select((day, i) => new PlannedTask(
                    Guid.NewGuid(), $"Task {i}",
                    CalendarPeriod.Holding(kinds[i], new LocalDate(2026, 3, 16).PlusDays(day)), Notebook.LongAgo)
                {
                    CompletedAt = i % 3 == 0 ? Now : null,
                }),
            ],
        };
        string[] stages = ["outline", "record", "publish", "letter"];

        foreach (var (slot, i) in slots.Select((slot, i) => (slot, i)))
        {
            ReleaseEvent[] happened = [.. stages.Take(done[i]).Select(stage => Notebook.Done(stage, Notebook.LongAgo))];
            notebook.Plan($"No. {i}", First.PlusWeeks(slot - 3), Notebook.LongAgo, happened);
        }

        return notebook;
    }
}
