namespace Releasekit.Domain.Statistics.Timeliness;

/// <summary>What was allotted, and what it took; the same unit, the allotment frozen before the start.</summary>
public readonly record struct Allotment(double Allotted, double Actual)
{
    /// <summary>Actual / allotted; null when either is nothing.</summary>
    public double? Ratio => Allotted > 0 && Actual > 0 ? Actual / Allotted : null;
}
