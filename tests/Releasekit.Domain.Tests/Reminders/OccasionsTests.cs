using Releasekit.Domain.Publishers;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Tests.Sheets;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests.Reminders;

/// <summary>
/// When a publisher is reminded of what. Times reckoned by hand: the slot of Thursday 5 March 2026, 07:00; before it
/// ten hours of work, eight a day from nine to five: recording must be done on Wednesday at 17:00 and begin that day at
/// 9:00, the outline be done on Tuesday at 17:00 and begin at 15:00. Lisbon keeps UTC until 29 March.
/// </summary>
public class OccasionsTests
{
    private static readonly LocalDate Slot = new(2026, 3, 5);
    private static readonly Instant Planned = Instant.FromUtc(2026, 2, 20, 9, 0);

    [Theory]
    [InlineData(2, 16, 59, "")]
    [InlineData(2, 17, 0, "StageDueSoon outline")]
    [InlineData(3, 14, 59, "StageDueSoon outline")]
    [InlineData(3, 15, 1, "StageDueSoon outline|SlotAtRisk")]
    [InlineData(3, 17, 0, "StageOverdue outline|StageDueSoon record|SlotAtRisk")]
    [InlineData(4, 7, 0, "StageOverdue outline|StageDueSoon record|StageDueSoon publish|SlotAtRisk")]
    [InlineData(4, 17, 0, "StageOverdue outline|StageOverdue record|StageDueSoon publish|SlotAtRisk")]
    [InlineData(5, 7, 0, "StageOverdue outline|StageOverdue record|StageOverdue publish")]
    public void Stages_and_slots_are_told_in_time(int day, int hour, int minute, string expected)
    {
        var notebook = new Notebook();
        notebook.Plan("Eelgrass", Slot, Planned);

        var owed = Owed(notebook, Instant.FromUtc(2026, 3, day, hour, minute));

        Assert.Equal(
            expected.Split('|', StringSplitOptions.RemoveEmptyEntries).Order(),
            owed.Where(one => one.Facts.Slot == Slot && one.Facts.Stage != "letter").Select(Described).Order());
    }

    [Fact]
    public void What_is_done_is_not_spoken_of()
    {
        var notebook = new Notebook();
        notebook.Plan(
            "Eelgrass", Slot, Planned,
            Notebook.Done("outline", Planned), Notebook.Done("record", Planned), Notebook.Done("publish", Planned),
            Notebook.Done("letter", Planned));

        Assert.DoesNotContain(Owed(notebook, Instant.FromUtc(2026, 3, 5, 8, 0)), one => one.Facts.Release is not null);
    }

    [Fact]
    public void A_stage_opened_again_is_another_occasion_and_a_shifted_day_is_none()
    {
        var at = Instant.FromUtc(2026, 3, 4, 18, 0);
        var once = new Notebook();
        var again = new Notebook();
        once.Plan("Eelgrass", Slot, Planned);
        again.Plan(
            "Eelgrass", Slot, Planned, Notebook.Done("outline", Planned),
            new StageReopened("outline", false, "not finished", Planned, Planned));
        var fewerHours = new Notebook
        {
            Publisher = once.Publisher with
            {
                WorkingWeek = [.. Publisher.UsualWeek.Select(day => day with { To = new(16, 0) })],
            },
        };
        fewerHours.Plan("Eelgrass", Slot, Planned);

        Assert.NotEqual(KeyOf(once), KeyOf(again));
        Assert.Equal(KeyOf(once), KeyOf(fewerHours));

        string KeyOf(Notebook notebook) =>
            Owed(notebook, at).Single(one => Described(one) == "StageOverdue outline").Key;
    }

    [Fact]
    public void A_moved_slot_is_another_occasion_and_nothing_is_owed_for_the_old_one()
    {
        var notebook = new Notebook().Decide(
            new SlotMoved(Slot, new LocalDateTime(2026, 3, 7, 12, 0), Instant.FromUtc(2026, 3, 1, 9, 0)));
        notebook.Plan("Eelgrass", Slot, Planned);

        Assert.DoesNotContain(
            Owed(notebook, Instant.FromUtc(2026, 3, 3, 12, 0)), one => one.Facts.Slot == Slot);
        Assert.Contains(
            Owed(notebook, Instant.FromUtc(2026, 3, 7, 11, 0)),
            one => Described(one) == "StageDueSoon publish"
                && one.Facts.SlotAt == Instant.FromUtc(2026, 3, 7, 12, 0));
    }

    [Fact]
    public void Nothing_is_said_of_what_lay_past_when_it_came_to_be_known()
    {
        var notebook = new Notebook();
        notebook.Plan("Told afterwards", Slot, Instant.FromUtc(2026, 3, 6, 9, 0));

        var owed = Owed(notebook, Instant.FromUtc(2026, 3, 6, 10, 0));

        Assert.DoesNotContain(owed, one => one.Type is ReminderType.StageOverdue && one.Facts.Stage != "letter");
    }

    [Fact]
    public void A_slot_that_nobody_holds_is_at_risk_once_its_whole_work_should_have_begun()
    {
        var empty = new Notebook();
        var banked = new Notebook();
        banked.Plan(
            "In the bank", null, Planned, Notebook.Done("outline", Planned), Notebook.Done("record", Planned));

        Assert.DoesNotContain(
            Owed(empty, Instant.FromUtc(2026, 3, 3, 15, 0)), one => IsRiskOf(one, Slot));
        Assert.Contains(Owed(empty, Instant.FromUtc(2026, 3, 3, 15, 1)), one => IsRiskOf(one, Slot));
        Assert.DoesNotContain(Owed(banked, Instant.FromUtc(2026, 3, 3, 15, 1)), one => IsRiskOf(one, Slot));
    }

    [Fact]
    public void A_slot_in_a_break_is_neither_at_risk_nor_missed()
    {
        var notebook = new Notebook().Decide(new BreakPlanned(
            Guid.NewGuid(), Slot, Slot.PlusDays(3), "spring tide", Instant.FromUtc(2026, 3, 1, 9, 0)));
        notebook.Plan("Eelgrass", Slot, Planned);

        Assert.DoesNotContain(
            Owed(notebook, Instant.FromUtc(2026, 3, 20, 9, 0)), one => one.Facts.Slot == Slot);
    }

    [Fact]
    public void A_missed_slot_is_told_when_its_late_window_has_ended()
    {
        var notebook = new Notebook();
        notebook.Plan("Eelgrass", Slot, Planned);

        // A week's gap less a day after it, inclusive.
        var end = Instant.FromUtc(2026, 3, 11, 7, 0);

        Assert.DoesNotContain(Owed(notebook, end), one => Described(one) == "SlotMissed" && one.Facts.Slot == Slot);
        Assert.Contains(
            Owed(notebook, end + Duration.FromMinutes(1)),
            one => Described(one) == "SlotMissed" && one.Facts.Slot == Slot && one.At == end);
    }

    /// <summary>
    /// Clocks in Lisbon go forward on 29 March 2026 at 01:00 and back on 25 October at 02:00 (tz database): a time that
    /// is skipped is read with the offset before the gap, one that comes twice is the first (RFC 5545, 3.3.5).
    /// </summary>
    [Theory]
    [InlineData("2026-03-28", 8, 0, "2026-03-28T08:00:00Z")]
    [InlineData("2026-03-29", 8, 0, "2026-03-29T07:00:00Z")]
    [InlineData("2026-03-29", 1, 30, "2026-03-29T01:30:00Z")]
    [InlineData("2026-10-25", 1, 30, "2026-10-25T00:30:00Z")]
    public void A_task_is_called_at_the_local_time_of_its_day(string when, int hour, int minute, string expected)
    {
        var at = NodaTime.Text.InstantPattern.General.Parse(expected).Value;
        var notebook = WithTask(when, isImportant: false, new LocalTime(hour, minute));

        Assert.DoesNotContain(Owed(notebook, at - Duration.FromSeconds(1)), IsTask);
        Assert.Equal(at, Assert.Single(Owed(notebook, at), one => IsTask(one)).At);
    }

    [Theory]
    [InlineData("2026-W10", false, "2026-03-06T08:00:00Z")]
    [InlineData("2026-W10", true, "2026-03-03T08:00:00Z")]
    [InlineData("2026-02", false, "2026-02-27T08:00:00Z")]
    [InlineData("2026-03-07", false, "2026-03-07T08:00:00Z")]
    public void A_week_or_month_ends_with_its_last_working_day(string when, bool isImportant, string expected)
    {
        var at = NodaTime.Text.InstantPattern.General.Parse(expected).Value;

        Assert.Equal(
            at, Assert.Single(Owed(WithTask(when, isImportant, new LocalTime(8, 0)), at), one => IsTask(one)).At);
    }

    [Fact]
    public void Late_is_what_could_not_be_told_within_ten_minutes()
    {
        var occasion = new Occasion(
            ReminderType.TaskDue, "/v1/tasks/1", "2026-03-05", Instant.FromUtc(2026, 3, 5, 8, 0), "Invoice", new());

        Assert.False(ReminderRaised.Of(occasion, occasion.At + Duration.FromMinutes(10)).Late);
        Assert.True(ReminderRaised.Of(occasion, occasion.At + Duration.FromMinutes(11)).Late);
    }

    private static bool IsTask(Occasion occasion) => occasion.Type is ReminderType.TaskDue;

    private static bool IsRiskOf(Occasion occasion, LocalDate slot) =>
        occasion.Type is ReminderType.SlotAtRisk && occasion.Facts.Slot == slot;

    private static Notebook WithTask(string when, bool isImportant, LocalTime remindAt)
    {
        var empty = new Notebook();
        return new()
        {
            Publisher = empty.Publisher with { Reminders = ReminderSettings.Usual with { RemindAt = remindAt } },
            Tasks =
            [
                new PlannedTask(Guid.NewGuid(), "Invoice", CalendarPeriod.TryParse(when)!.Value, Notebook.LongAgo)
                {
                    IsImportant = isImportant,
                },
            ],
        };
    }

    private static IReadOnlyList<Occasion> Owed(Notebook notebook, Instant at) =>
        Occasions.Owed(notebook.At(at), Notebook.Plans);

    private static string Described(Occasion occasion) =>
        occasion.Facts.Stage is { } stage ? $"{occasion.Type} {stage}" : occasion.Type.ToString();
}
