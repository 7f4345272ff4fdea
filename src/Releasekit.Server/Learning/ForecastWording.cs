using System.Globalization;
using NodaTime.Text;
using Releasekit.Domain.Statistics.Forecast;

namespace Releasekit.Server.Learning;

/// <summary>Words a forecast the way one person would tell it another.</summary>
internal static class ForecastWording
{
    private const int Likely = 85;

    private static readonly LocalDatePattern Day = LocalDatePattern.CreateWithInvariantCulture("d MMMM uuuu");

    public static string Of(ReleaseForecast forecast, DateTimeZone zone)
    {
        var by = forecast.Finish.First(finish => finish.Percent == Likely);
        var ready = forecast.Finish.All(finish => finish.WorkingHours == 0 && finish.At is not null)
            ? "is ready"
            : by.At is { } at
            ? $"ready by {Day.Format(at.InZone(zone).Date)} with {Likely} %"
            : "not ready within the years that the calendar looks ahead";
        var met = forecast.Met is { } chance ? $"meets its slot with {Percent(chance.Value)}, {ready}" : ready;
        var basis = forecast.Basis is ForecastBasis.Guesses
            ? "from the guesses in the stage plan, as fewer than five past releases can tell"
            : string.Create(CultureInfo.InvariantCulture, $"from {forecast.Past} past releases");

        return $"{char.ToUpperInvariant(met[0])}{met[1..]}; {basis}.";
    }

    /// <summary>A probability in whole per cent; never 0 or 100 where it is not.</summary>
    public static string Percent(double value)
    {
        var whole = (int)Math.Round(value * 100);

        return (whole, value) switch
        {
            (0, > 0) => "less than 1 %",
            (100, < 1) => "more than 99 %",
            _ => string.Create(CultureInfo.InvariantCulture, $"{whole} %"),
        };
    }
}
