namespace Releasekit.Client.Learning;

/// <summary>How far the bank carries.</summary>
/// <param name="InBank">Finished, unpublished releases.</param>
/// <param name="Work">Elapsed days that a release takes when nothing else is in the making.</param>
/// <param name="Load">How much of the time from slot to slot the work takes.</param>
/// <param name="Missing">Why something is not told; null when all is.</param>
/// <param name="Says">What it comes to.</param>
public sealed record Bank(
    Instant At, double Probability, int Break, int InBank, int? SlotDays, Spread Work, int LeftOut, double? Load,
    BankCarries? Carries, BankLongRun? LongRun, BankLost? Lost, string? Missing, string Says, string Assumes);

/// <summary>What today's bank covers.</summary>
/// <param name="NoneLate">By number of slots, from 1: the probability that none up to then is late.</param>
public sealed record BankCarries(int Slots, IReadOnlyList<double> NoneLate, double? Low, double? High, int? Needed);

/// <summary>What it has to hold for good when late is late.</summary>
public sealed record BankLongRun(IReadOnlyList<double> OnTime, int? Needed, double MeanWaitDays);

/// <summary>What it has to hold for good when a missed slot is lost.</summary>
public sealed record BankLost(
    IReadOnlyList<double> ReadyPerSlot, int Intervals, IReadOnlyList<double> Missed, int? Needed);

/// <summary>Whether things take the time they were given.</summary>
public sealed record Timeliness(
    Instant At, TimelinessFigures Projects, Suggestion? Suggestion, IReadOnlyList<StageTimeliness> Stages);

/// <summary>Of a stage of a series, in working hours.</summary>
public sealed record StageTimeliness(string Series, string Stage, TimelinessFigures Figures);

/// <summary>With r = actual / allotted.</summary>
public sealed record TimelinessFigures(
    int N, int Excluded, double? MedianRatio, double? MeanRatio, double? LogRatioMean, double? LogRatioSd,
    double? GeometricMeanRatio, double? TotalRatio, Figure AtOrUnder, Figure HeapedBelow, Figure Exact,
    Figure WithinQuarter, double? ErrorOfActual, double? ErrorOfAllotted, SignTest Sign, double? Slope);

/// <summary>Whether actual is more often greater than allotted.</summary>
public sealed record SignTest(int Greater, int Smaller, int Ties, double? TwoSided, double? OneSided);

/// <summary>What the past suggests for a new project.</summary>
public sealed record Suggestion(double Days, IReadOnlyList<SuggestedDate> ByPercent);

/// <summary>What so many per cent of past projects would have kept.</summary>
public sealed record SuggestedDate(int Percent, Figure Days, LocalDate? FinishBy);
