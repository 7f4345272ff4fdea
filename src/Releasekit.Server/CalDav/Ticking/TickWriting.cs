using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Work;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.CalDav.Ticking;

/// <summary>Does what a ticked to-do asks for, as the API would.</summary>
internal sealed class TickWriting(Ledger ledger, ServiceClock clock)
{
    private const string Reason = "in a calendar app";
    private const string TaskSuffix = "@task.releasekit";
    private static readonly TaskKind Tasks = new();

    /// <summary>Why it was refused; null when it was done, or asked for nothing.</summary>
    public async Task<Problem?> Do(
        string publisher, ItemPlace item, TickDeed deed, TodoSigns signs, CancellationToken cancel)
    {
        var uid = item.Stored.Uid;

        return deed is TickDeed.None ? null
            : StageEntries.Read(uid) is { } stage
                ? await OfStage(publisher, stage.Release, stage.Stage, deed, signs, cancel)
            : uid.EndsWith(TaskSuffix, StringComparison.Ordinal)
                && Guid.TryParse(uid[..^TaskSuffix.Length], out var task)
                ? await OfTask(publisher, task, deed, signs, cancel)
            : null;
    }

    private async Task<Problem?> OfStage(
        string publisher, Guid id, string stage, TickDeed deed, TodoSigns signs, CancellationToken cancel)
    {
        var answer = await ledger.Write<Nothing>(publisher, async unit =>
        {
            if (await unit.Release(id) is not { } release)
            {
                return Problems.NotFound("release of that id");
            }

            var now = clock.Now;
            var (to, at, note) = deed switch
            {
                TickDeed.Complete => (StageState.Completed, (Instant?)Ticks.At(signs, now), (string?)null),
                TickDeed.Start => (StageState.Started, null, null),
                TickDeed.Skip => (StageState.Skipped, null, $"left out {Reason}"),
                _ => (StageState.Ready, null, $"unticked {Reason}"),
            };

            var decision = StageDecider.Record(release.State, stage, to, note, url: null, at, now);

            return release.Append(decision) is { } refusal
                ? Problems.Of(refusal)
                : new Nothing();
        }, cancel);

        return answer.Problem;
    }

    private async Task<Problem?> OfTask(
        string publisher, Guid id, TickDeed deed, TodoSigns signs, CancellationToken cancel)
    {
        var answer = await ledger.Write<Nothing>(publisher, async unit =>
        {
            if (await unit.Documents.LoadAsync<PlannedTask>(id, cancel) is not { RemovedAt: null } task)
            {
                return Problems.NotFound("task of that id");
            }

            var (now, refusal) = (clock.Now, (Refusal?)null);
            var changed = deed switch
            {
                TickDeed.Complete => task.Complete(Ticks.At(signs, now), now, out refusal),
                TickDeed.Reopen => task.Reopen(now),
                _ => task,
            };

            if (refusal is not null)
            {
                return Problems.Of(refusal);
            }

            if (changed != task)
            {
                EntryWriting.Store(Tasks, unit.Documents, changed!);
            }

            return new Nothing();
        }, cancel);

        return answer.Problem;
    }
}
