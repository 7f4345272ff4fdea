using System.Globalization;
using System.Text;
using System.Text.Json;
using Releasekit.Domain.Statistics;
using Releasekit.Domain.Statistics.Flow;

namespace Releasekit.Server.Learning;

/// <summary>The figures of flow as a table (RFC 4180): a line for each, with interval or reasons.</summary>
internal static class FlowTable
{
    private const string Head = "figure,stage,percent,unit,n,value,low,high,missing,low_missing,high_missing\r\n";

    public static string Of(FlowFigures figures)
    {
        var table = new StringBuilder(Head);
        Line(table, "throughput", null, null, figures.ThroughputPerWeek);
        Lines(table, "lead", null, figures.Lead);
        Lines(table, "lead_inclusive", null, figures.LeadInclusive);
        Lines(table, "cycle", null, figures.Cycle);
        Lines(table, "cycle_inclusive", null, figures.CycleInclusive);
        Lines(table, "queue_before_start", null, figures.QueueBeforeStart);
        Lines(table, "waiting", null, figures.Waiting);
        Line(table, "flow_efficiency", null, null, figures.FlowEfficiency);

        foreach (var stage in figures.Stages)
        {
            Lines(table, "stage_time", stage.Key, stage.Time);
            Line(table, "working_share", stage.Key, null, stage.WorkingShare);
            Line(table, "waiting_share", stage.Key, null, stage.WaitingShare);
        }

        return table.ToString();
    }

    private static void Lines(StringBuilder table, string name, string? stage, Spread spread)
    {
        foreach (var percentile in spread.Percentiles)
        {
            Line(table, name, stage, percentile.Percent, percentile.Estimate);
        }
    }

    /// <summary>Names, keys and numbers only: none of them needs quoting.</summary>
    private static void Line(StringBuilder table, string name, string? stage, int? percent, Figure figure) =>
        table.Append(CultureInfo.InvariantCulture, $"{name},{stage},{percent},{Named(figure.Unit)},{figure.N},")
            .Append(CultureInfo.InvariantCulture, $"{figure.Value},{figure.Low},{figure.High},")
            .Append(CultureInfo.InvariantCulture, $"{Named(figure.Missing)},{Named(figure.LowMissing)},")
            .Append(Named(figure.HighMissing))
            .Append("\r\n");

    private static string? Named<T>(T value) =>
        value is null ? null : JsonNamingPolicy.SnakeCaseLower.ConvertName(value.ToString()!);
}
