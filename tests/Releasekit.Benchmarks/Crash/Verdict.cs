using Releasekit.Client;
using Releasekit.Client.Releases;

namespace Releasekit.Benchmarks.Crash;

/// <summary>
/// What the service has of the run: every acknowledged transition once and no other, histories without a gap, and
/// releases that are what their histories say, counted anew here.
/// </summary>
internal static class Verdict
{
    public static async Task<string> Of(RunningService service, Writer[] writers, Faults faults)
    {
        var client = service.Connect();
        var acknowledged = writers.SelectMany(writer => writer.Acknowledged).ToHashSet();
        var found = new List<string>();
        var touched = writers.SelectMany(writer => writer.Touched).ToArray();

        foreach (var id in touched)
        {
            var release = await client.Releases.Get(id).Value();
            var history = (await client.Releases.History(id, limit: 200).Value()).Items;
            found.AddRange(history.Select(entry => TextOf(entry, "note")).OfType<string>());

            if (history.Where((entry, i) => entry.Sequence != i + 1).Any())
            {
                faults.Add($"the history of {id} has a gap");
            }

            foreach (var difference in Differences(release, history))
            {
                faults.Add($"{id} differs from its history: {difference}");
            }
        }

        var times = found.CountBy(note => note).ToDictionary();
        var (lost, twice) = (acknowledged.Count(note => !times.ContainsKey(note)), times.Count(one => one.Value > 1));
        var unasked = times.Keys.Count(note => !acknowledged.Contains(note));

        if ((lost, twice, unasked) is not (0, 0, 0))
        {
            faults.Add($"{lost} transitions are lost, {twice} there twice, {unasked} there without an answer");
        }

        return $"{acknowledged.Count} acknowledged transitions of {touched.Length} releases, each compared with its "
            + $"history: {lost} lost, {twice} twice";
    }

    private static IEnumerable<string> Differences(Release release, IReadOnlyList<HistoryEntry> history)
    {
        foreach (var stage in release.Stages)
        {
            var started = Find(history, "StageStarted", stage.Key)?.OccurredAt;
            var completed = Find(history, "StageCompleted", stage.Key)?.OccurredAt;
            var isAsTold = (started, completed) switch
            {
                (_, not null) => stage.State is StageState.Completed,
                (not null, _) => stage.State is StageState.Started,
                _ => stage.State is StageState.Ready or StageState.Waiting,
            };

            if (!isAsTold || stage.StartedAt != started || stage.CompletedAt != completed)
            {
                yield return $"{stage.Key} is {stage.State}, started {started}, completed {completed}";
            }
        }

        var done = Workload.Stages.TakeWhile(stage => Find(history, "StageCompleted", stage) is not null).Count();
        var publication = Array.IndexOf(Workload.Stages, "publish");
        var state = done == Workload.Stages.Length ? ReleaseState.Closed
            : done > publication ? ReleaseState.Published
            : done == publication ? ReleaseState.Finished
            : history.Count > 1 ? ReleaseState.InProgress
            : ReleaseState.Planned;

        if (release.State != state || release.Sequence != history[^1].Sequence
            || release.PublishedAt != Find(history, "StageCompleted", "publish")?.OccurredAt)
        {
            yield return $"it is {release.State} at {release.Sequence}, "
                + $"its history says {state} at {history[^1].Sequence}";
        }
    }

    private static HistoryEntry? Find(IReadOnlyList<HistoryEntry> history, string what, string stage) =>
        history.SingleOrDefault(entry => entry.Event == what && TextOf(entry, "stage") == stage);

    private static string? TextOf(HistoryEntry entry, string member) =>
        entry.Details.TryGetValue(member, out var value) && value.ValueKind is System.Text.Json.JsonValueKind.String
            ? value.GetString() : null;
}
