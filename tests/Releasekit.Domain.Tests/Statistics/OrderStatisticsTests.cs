using CsCheck;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Forecast;
using static Releasekit.Domain.Tests.Statistics.Forecast.Ahead;

namespace Releasekit.Domain.Tests.Statistics;

/// <summary>Seen through forecasts, which read their percentiles off unsorted trials.</summary>
public sealed class OrderStatisticsTests
{
    [Fact]
    public void Percentiles_of_trials_are_those_of_the_sorted_trials() =>
        Gen.Select(Gen.Double[0, 50].Array[1, 7], Gen.Int[1, 700]).Sample((hours, trials) =>
        {
            var model = TrialModel.Of(
                WorkLaw.OfStages(["a", "b"], [hours, [1, 1, 100]]), [Open(1, null, Line(2)), Open(2, null)]);

            var told = WorkForecast.Simulate(model, Eight, Monday9, seed: 5, trials);

            foreach (var (release, sorted) in told.Releases.Zip(Trials(model, trials, seed: 5)))
            {
                Array.Sort(sorted);
                Assert.Equal(
                    Spread.Shown.Select(percent => Percentile.Of(sorted, percent)),
                    release.Finish.Select(finish => finish.WorkingHours));
            }
        });
}
