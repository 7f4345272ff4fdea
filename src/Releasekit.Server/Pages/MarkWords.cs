using Releasekit.Domain.Releases;
using Releasekit.Domain.Statistics;

namespace Releasekit.Server.Pages;

/// <summary>Which mark stands for what, and the word for it.</summary>
public static class MarkWords
{
    /// <summary>The mark of a stage.</summary>
    public static (string Shape, string Word) Of(StageState state) => state switch
    {
        StageState.Waiting => ("waiting", "waiting"),
        StageState.Ready => ("ready", "to do"),
        StageState.Started => ("started", "started"),
        StageState.Blocked => ("blocked", "held up"),
        StageState.Completed => ("completed", "done"),
        _ => ("skipped", "left out"),
    };

    /// <summary>The mark of a slot; null for a publication outside the cadence.</summary>
    public static (string Shape, string Word) Of(SlotStatus? state) => state switch
    {
        SlotStatus.Open => ("open", "nothing planned"),
        SlotStatus.Held => ("ready", "planned"),
        SlotStatus.Excused => ("skipped", "excused"),
        SlotStatus.Pending => ("pending", "due now"),
        SlotStatus.Met => ("completed", "on time"),
        SlotStatus.Late => ("late", "late"),
        SlotStatus.Overdue => ("overdue", "overdue"),
        SlotStatus.Missed => ("missed", "missed"),
        _ => ("completed", "extra"),
    };
}
