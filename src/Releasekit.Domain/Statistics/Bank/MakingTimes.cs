using Releasekit.Domain.Planning;
using Releasekit.Domain.Statistics.Flow;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Domain.Statistics.Bank;

/// <summary>
/// How many days each release takes to make when nothing else is in the making: no more than from its start to ready,
/// and no more than its working hours fill in the publisher's week. Without the second, releases that are made beside
/// each other would seem to take all the time there is.
/// </summary>
/// <param name="Days">Elapsed days, of the releases that became ready, in that order.</param>
/// <param name="LeftOut">How many cannot tell when they were begun.</param>
public sealed record MakingTimes(IReadOnlyList<double> Days, int LeftOut)
{
    private const int DaysOfWeek = 7;

    /// <summary>The times of a series.</summary>
    /// <param name="facts">Of its releases.</param>
    /// <param name="worked">What went into them.</param>
    public static MakingTimes Of(
        IReadOnlyList<ReleaseFacts> facts, WorkedHours worked, WorkingCalendar calendar)
    {
        ReleaseFacts[] ready = [.. facts.Where(one => one.ReadyAt is not null).OrderBy(one => one.ReadyAt)];
        double[] days =
        [
            .. from release in ready
               let begin = StageSpells.BeginOf(release, calendar)
               where begin is not null
               select Math.Min(
                   Math.Max(0, (release.ReadyAt!.Value - begin.Value).TotalDays),
                   DaysOf(release, worked, calendar)),
        ];

        return new(days, ready.Length - days.Length);
    }

    private static double DaysOf(ReleaseFacts release, WorkedHours worked, WorkingCalendar calendar) =>
        calendar.WeeklyHours == Duration.Zero
            ? double.MaxValue
            : release.Stages
                .Where(stage => stage.Role is StageRole.Making)
                .Sum(stage => worked.On(release.Release, stage.Key)) / calendar.WeeklyHours.TotalHours * DaysOfWeek;
}
