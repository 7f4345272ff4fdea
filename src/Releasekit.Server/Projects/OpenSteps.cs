using Marten;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Work;
using Releasekit.Server.Entries;

namespace Releasekit.Server.Projects;

/// <summary>The open steps of started projects that have an effort: they take working hours.</summary>
internal sealed class OpenSteps
{
    private readonly Dictionary<string, (Project Project, Step Step)> _steps;
    private readonly EntryScene _scene;

    private OpenSteps(IEnumerable<Project> projects, EntryScene scene)
    {
        _scene = scene;
        _steps = projects
            .SelectMany(project => project.Steps.Select(step => (Project: project, Step: step)))
            .Where(open => open.Step is { DoneAt: null, Effort: not null })
            .ToDictionary(open => $"{open.Project.Id}/{open.Step.Key}");
    }

    public IEnumerable<OpenWork> Work => _steps.Select(open => OpenWork.Task(
        open.Key, open.Value.Step.Effort, _scene.Publisher.StartOf(DueOn(open.Value).PlusDays(1))));

    public static async Task<OpenSteps> Load(EntryScene scene) => new(
        await scene.Documents.Query<Project>()
            .Where(project => project.State == ProjectState.Started)
            .OrderBy(project => project.Id)
            .ToListAsync(scene.Cancel),
        scene);

    /// <summary>The open step that work belongs to; null when it belongs to none.</summary>
    public (Project Project, Step Step)? Find(string owner) =>
        _steps.TryGetValue(owner, out var open) ? open : null;

    /// <summary>The day it is meant for; once that is past, the day the project was promised for.</summary>
    private LocalDate DueOn((Project Project, Step Step) open) =>
        open.Step.When is { } when && when >= _scene.Today ? when : open.Project.FinishBy!.Value;
}
