namespace Releasekit.Domain.Statistics;

/// <summary>What a figure is counted in.</summary>
public enum FigureUnit
{
    /// <summary>Hours of the UTC difference, divided by 24.</summary>
    ElapsedDays,

    /// <summary>Difference of the local dates, and one: what begins and ends on a day took one.</summary>
    InclusiveDays,

    /// <summary>Difference of the wall clocks of the series' zone, in days of 24 h; no clock change in it.</summary>
    WallClockDays,

    /// <summary>Hours of the working calendar.</summary>
    WorkingHours,

    /// <summary>A part of a whole, 0 to 1.</summary>
    Share,

    /// <summary>Actual divided by allotted, both in the same unit.</summary>
    Ratio,

    /// <summary>How many releases.</summary>
    Releases,

    /// <summary>Releases in seven elapsed days.</summary>
    ReleasesPerWeek,
}

/// <summary>Why a figure, or an end of its interval, is missing. Never 0 instead.</summary>
public enum Lack
{
    /// <summary>n = 0.</summary>
    NothingCounted,

    /// <summary>n is below two.</summary>
    FewerThanTwo,

    /// <summary>Too few past values to forecast from; show them instead.</summary>
    TooFewPast,

    /// <summary>Too many are still open: the curve never falls that far.</summary>
    Censored,

    /// <summary>With so few values nothing can be excluded on this side, whatever lies beyond the ones seen.</summary>
    NoFiniteBound,

    /// <summary>All values are the same.</summary>
    NoVariation,

    /// <summary>There is nothing to divide by, or nothing to compare with.</summary>
    NothingToCompare,

    /// <summary>It is counted, not estimated: there is no interval.</summary>
    Counted,

    /// <summary>The work takes as long as the interval of the slots, or longer: no stock is ever enough.</summary>
    NoStockIsEnough,

    /// <summary>Beyond what the working calendar looks ahead.</summary>
    OutOfReach,
}

/// <summary>A figure as it is shown: with its unit, what it rests on, and its 95 % interval.</summary>
/// <param name="Value">In <paramref name="Unit"/>; null when it cannot be computed, and then why.</param>
/// <param name="Unit">What it is counted in.</param>
/// <param name="N">How many values it rests on.</param>
/// <param name="Low">Lower end of the interval, included; null when there is none, and then why.</param>
/// <param name="High">Upper end of the interval, included; null when there is none, and then why.</param>
/// <param name="Missing">Why there is no value; null when there is one.</param>
/// <param name="LowMissing">Why there is no lower end; null when there is one.</param>
/// <param name="HighMissing">Why there is no upper end; null when there is one.</param>
public sealed record Figure(
    double? Value,
    FigureUnit Unit,
    int N,
    double? Low,
    double? High,
    Lack? Missing,
    Lack? LowMissing,
    Lack? HighMissing)
{
    /// <summary>A figure that cannot be computed.</summary>
    public static Figure None(FigureUnit unit, int n, Lack why) => new(null, unit, n, null, null, why, why, why);

    /// <summary>A figure that is exact for what it counts.</summary>
    public static Figure Counted(double value, FigureUnit unit, int n) =>
        new(value, unit, n, null, null, null, Lack.Counted, Lack.Counted);

    /// <summary>An estimate whose interval may be open on a side, and then for one reason.</summary>
    public static Figure Estimated(
        double? value, FigureUnit unit, int n, double? low, double? high, Lack whyOpen, Lack whyMissing) => new(
            value,
            unit,
            n,
            low,
            high,
            value is null ? whyMissing : null,
            low is null ? whyOpen : null,
            high is null ? whyOpen : null);

    /// <summary>A share with its Wilson interval; without values there is neither.</summary>
    public static Figure Of(ProportionEstimate share) => share.N == 0
        ? None(FigureUnit.Share, 0, Lack.NothingCounted)
        : new(share.Value, FigureUnit.Share, share.N, share.Low, share.High, null, null, null);
}
