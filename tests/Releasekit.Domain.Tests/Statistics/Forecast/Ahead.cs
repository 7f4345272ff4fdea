using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Domain.Tests.Statistics.Forecast;

/// <summary>Open releases and what they are forecast from.</summary>
internal static class Ahead
{
    /// <summary>A Monday, nine o'clock.</summary>
    public static readonly Instant Monday9 = Instant.FromUtc(2024, 5, 6, 9, 0);

    /// <summary>Monday to Friday, 9 to 17 without a pause: a day holds eight hours.</summary>
    public static readonly WorkingCalendar Eight = Days();

    public static WorkingCalendar Days(params LocalDate[] off) => new(
        Enumerable.Range(1, 5).Select(day => new WorkingHours((IsoDayOfWeek)day, new(9, 0), new(17, 0))),
        off, [], DateTimeZone.Utc);

    public static OpenRelease Open(int name, Instant? slot, params StageAhead[] stages) =>
        new(new Guid(name, 0, 0, new byte[8]), slot, stages);

    public static StageAhead Stage(string key, double done = 0, params string[] after) => new(key, done, after);

    /// <summary>Stages a, b, c, … that follow each other.</summary>
    public static StageAhead[] Line(int count) =>
        [.. Enumerable.Range(0, count).Select(i => Stage(Key(i), 0, i == 0 ? [] : [Key(i - 1)]))];

    public static string[] Keys(int count) => [.. Enumerable.Range(0, count).Select(Key)];

    public static PastWork Past(params double[][] rows) => new(Keys(rows[0].Length), rows, LeftOut: 0);

    /// <summary>When the releases are done in each trial, by release.</summary>
    public static double[][] Trials(TrialModel model, int trials, ulong seed = 7)
    {
        var finishes = new double[trials * model.Open.Count];
        model.Run(seed, 0, finishes);
        return
        [
            .. Enumerable.Range(0, model.Open.Count).Select(release => Enumerable.Range(0, trials)
                .Select(trial => finishes[trial * model.Open.Count + release]).ToArray()),
        ];
    }

    /// <summary>A simulated share lies within five standard errors of the exact one (false alarm 5.7e-7).</summary>
    public static void AssertNear(double exact, int count, int trials) => Assert.InRange(
        Math.Abs((double)count / trials - exact), 0, 5 * SimulationError.Of(exact, trials) + 1e-9);

    private static string Key(int index) => ((char)('a' + index)).ToString();
}
