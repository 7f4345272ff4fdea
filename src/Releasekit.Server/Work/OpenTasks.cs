using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;

namespace Releasekit.Server.Work;

/// <summary>The open tasks that take working hours: those of the sphere of work with an effort.</summary>
internal sealed class OpenTasks
{
    private readonly Dictionary<string, PlannedTask> _tasks;
    private readonly EntryScene _scene;

    private OpenTasks(IEnumerable<PlannedTask> tasks, EntryScene scene) =>
        (_tasks, _scene) = (tasks.ToDictionary(task => task.Id.ToString()), scene);

    /// <summary>To be done within the period they stand in today, be it the one they were carried over to.</summary>
    public IEnumerable<OpenWork> Work => _tasks.Values.Select(task => OpenWork.Task(
        task.Id.ToString(), task.Effort, task.DueAt(_scene.Today, _scene.Zone)) with
    {
        NotBefore = task.NotBefore(_scene.Today, _scene.Zone),
    });

    public static async Task<OpenTasks> Load(EntryScene scene)
    {
        var tasks = await scene.Documents.Query<PlannedTask>()
            .Where(task => task.RemovedAt == null && task.CompletedAt == null && task.Sphere == Sphere.Work
                && task.Effort != null)
            .OrderBy(task => task.When.First)
            .ToListAsync(scene.Cancel);

        return new OpenTasks(tasks, scene);
    }

    /// <summary>The open task of that id; null when it is none.</summary>
    public PlannedTask? Find(string id) => _tasks.GetValueOrDefault(id);
}
