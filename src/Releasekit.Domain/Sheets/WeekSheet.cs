using Releasekit.Domain.Entries;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Sheets;

/// <summary>A week on one page: what to work on when, what is promised, personal beside work.</summary>
/// <param name="Week">2026-W10.</param>
/// <param name="Today">The publisher's local date it was made on.</param>
/// <param name="Days">Monday to Sunday.</param>
/// <param name="Tasks">Tasks that stand in this week, then those of its month; the important ones first.</param>
/// <param name="Warnings">What asks for a decision, weeks ahead too; empty for weeks that are over.</param>
/// <param name="Notes">What was noted in this week, newest first.</param>
/// <param name="WorkingTime">Working time from now on to the end of the week without busy appointments.</param>
/// <param name="LaidTime">How much of it is taken by the work laid into it.</param>
public sealed record WeekSheet(
    string Week,
    LocalDate Today,
    IReadOnlyList<WeekDay> Days,
    IReadOnlyList<SheetTask> Tasks,
    IReadOnlyList<SheetWarning> Warnings,
    IReadOnlyList<SheetNote> Notes,
    Duration WorkingTime,
    Duration LaidTime)
{
    /// <summary>The sheet of the ISO week that begins on <paramref name="monday"/>.</summary>
    public static WeekSheet Of(SheetFacts facts, LocalDate monday)
    {
        var week = CalendarPeriod.Holding(PeriodKind.Week, monday);
        var (from, to) = (week.First, week.Last.PlusDays(1));
        var sittings = WeekDay.SittingsOf(facts).ToLookup(sitting => facts.DateOf(sitting.From));
        var done = WeekDay.WhatWasDone(facts).ToLookup(stage => facts.DateOf(stage.CompletedAt));
        WeekDay[] days =
        [
            .. SheetDays.Between(facts, from, to)
                .Select(day => new WeekDay(day, [.. sittings[day.Date]], [.. done[day.Date]])),
        ];
        var start = Instant.Max(facts.Now, facts.Publisher.StartOf(from));
        var end = facts.Publisher.StartOf(to);

        return new(
            week.ToString(),
            facts.Today,
            days,
            SheetTasks.Touching(facts, from, to, (_, period) => period.Kind is not PeriodKind.Day),
            to <= facts.Today ? [] : SheetWarning.Of(facts),
            [
                .. facts.Notes.Select(note => new SheetNote(
                    note.Id, note.Title ?? FirstLine.Of(note.Text), note.NotedAt)),
            ],
            start < end ? facts.Calendar.Between(start, end) ?? Duration.Zero : Duration.Zero,
            days.SelectMany(day => day.Sittings).Aggregate(Duration.Zero, (sum, one) => sum + (one.To - one.From)));
    }
}
