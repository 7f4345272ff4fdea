using System.Text.Json.Serialization;
using Releasekit.Client.Schedule;

namespace Releasekit.Client.Learning;

/// <summary>How the work of a series flows in a window.</summary>
public sealed record Flow(LocalDate From, LocalDate To, Instant At, FlowFigures Figures, CumulativeFlow? Cumulative);

/// <summary>Elapsed days unless a figure names another unit.</summary>
/// <param name="StartsUnknown">Published, start unknown: they have a lead and no cycle time.</param>
/// <param name="Lead">Planned to published.</param>
/// <param name="Cycle">First start to published.</param>
/// <param name="Open">Begun and open at the end of the window, the oldest first.</param>
public sealed record FlowFigures(
    int Finished, int Dropped, int StartsUnknown, Figure ThroughputPerWeek, Spread Lead, Spread LeadInclusive,
    Spread Cycle, Spread CycleInclusive, Spread QueueBeforeStart, Spread Waiting, Figure FlowEfficiency,
    IReadOnlyList<StageFlow> Stages, LittlesLaw Little, SurvivalCurve CycleWithOpen, SurvivalCurve LeadWithOpen,
    IReadOnlyList<OpenAge> Open);

/// <summary>The time spent on a stage.</summary>
public sealed record StageFlow(
    string Key, Spread Time, int Skipped, int StartsUnknown, Figure WorkingShare, Figure WaitingShare);

/// <summary>A release that is open, and for how long.</summary>
public sealed record OpenAge(Guid Release, double AgeDays, bool IsStartUnknown);

/// <summary>Work in progress, throughput and cycle time, and by how much Little's law misses in the window.</summary>
/// <param name="Carriers">The releases that make the gap; their sum is the gap.</param>
public sealed record LittlesLaw(
    double WorkInProgress, int OpenAtStart, int OpenAtEnd, int Begun, int Finished, int Dropped, int StartsUnknown,
    double ThroughputPerDay, double? MeanCycleDays, double? MeanDaysInside, double Gap,
    IReadOnlyList<GapShare> Carriers);

/// <summary>What a release contributes to the gap.</summary>
public sealed record GapShare(Guid Release, double Releases, bool IsOpenAtEnd, bool IsDropped);

/// <summary>Kaplan-Meier: the share that takes longer, by time.</summary>
public sealed record SurvivalCurve(int N, IReadOnlyList<SurvivalStep> Steps, double? LongestFollowed);

/// <summary>The curve at a time at which something finished.</summary>
public sealed record SurvivalStep(
    double Time, int AtRisk, int Finished, double Open, double StandardError, double? Low, double? High);

/// <summary>How many had come how far by the end of each day.</summary>
public sealed record CumulativeFlow(
    IReadOnlyList<string> Stages, IReadOnlyList<LocalDate> Days, IReadOnlyList<IReadOnlyList<int>> Reached,
    IReadOnlyList<IReadOnlyList<int>> Current, IReadOnlyList<int> Dropped);

/// <summary>A behaviour chart.</summary>
/// <param name="Rules">What each rule says, rule 1 first.</param>
public sealed record Chart(
    string Measure, LocalDate From, LocalDate To, Instant At,
    [property: JsonPropertyName("chart")] BehaviourChart Behaviour, IReadOnlyList<string> Rules);

/// <summary>Single values with natural process limits.</summary>
public sealed record BehaviourChart(
    IReadOnlyList<ChartPoint> Points, IReadOnlyList<double?> Ranges, IReadOnlyList<ChartPhase> Phases,
    IReadOnlyList<Signal> Signals);

/// <summary>A value in the order of publication.</summary>
public sealed record ChartPoint(Guid Release, Instant At, double Value, int PlanVersion);

/// <summary>Points made in one way of working.</summary>
public sealed record ChartPhase(
    Instant? From, string Reason, int First, int Count, int Baseline, bool IsFrozen, NaturalLimits Limits);

/// <summary>The limits of a phase.</summary>
public sealed record NaturalLimits(
    int N, double? Mean, double? MeanRange, double? Lower, double? Upper, double? RangeLimit, double? Sigma,
    string? Missing);

/// <summary>Where a rule was met: worth asking about.</summary>
public sealed record Signal(int Rule, int Index, bool IsRange);

/// <summary>Flow, chart and cadence of every series.</summary>
public sealed record LearningOfAll(IReadOnlyList<SeriesLearning> Items);

/// <summary>What is learnt from a series.</summary>
public sealed record SeriesLearning(string Series, Flow Flow, Chart Chart, Adherence Cadence);
