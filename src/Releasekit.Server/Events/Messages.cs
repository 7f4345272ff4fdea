using System.Text.Json;
using System.Text.Json.Nodes;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Reminders;
using Releasekit.Domain.Work;
using Releasekit.Server.Http;

namespace Releasekit.Server.Events;

/// <summary>What a recorded event is told as, to whoever listens: the one place where that is said.</summary>
internal static class Messages
{
    /// <summary>Every type there is, in the order of what it is about.</summary>
    public static readonly IReadOnlyList<string> Types =
    [
        "release.planned", "stage.started", "stage.completed", "stage.skipped", "stage.reopened", "stage.blocked",
        "stage.unblocked", "release.finished", "release.published", "release.unpublished", "release.dropped",
        "stage.due_soon", "stage.overdue", "slot.at_risk", "slot.missed", "task.due", "project.started",
        "project.finished", "project.overdue",
    ];

    /// <summary>
    /// The types that a release's event is told as, in that order; empty for what concerns nobody else.
    /// </summary>
    /// <param name="before">The release before it; null when it begins with it.</param>
    /// <param name="after">The release after it.</param>
    public static IEnumerable<string> TypesOf(ReleaseEvent happened, Release? before, Release after)
    {
        if (TypeOf(happened) is { } type)
        {
            yield return type;
        }

        if (after.State is ReleaseState.Finished && before?.State is not ReleaseState.Finished
            && happened is StageCompleted or StageSkipped)
        {
            yield return "release.finished";
        }

        if (happened is StageCompleted { Publication: true })
        {
            yield return "release.published";
        }

        if (happened is StageReopened { Publication: true })
        {
            yield return "release.unpublished";
        }
    }

    /// <summary>The type that a project's event is told as; null for what concerns nobody else.</summary>
    public static string? TypeOf(ProjectEvent happened) => happened switch
    {
        ProjectStarted => "project.started",
        ProjectFinished => "project.finished",
        _ => null,
    };

    /// <summary>The type that a reminder is told as.</summary>
    public static string TypeOf(ReminderType type) => type switch
    {
        ReminderType.StageDueSoon => "stage.due_soon",
        ReminderType.StageOverdue => "stage.overdue",
        ReminderType.SlotAtRisk => "slot.at_risk",
        ReminderType.SlotMissed => "slot.missed",
        ReminderType.TaskDue => "task.due",
        _ => "project.overdue",
    };

    /// <summary>What a release's event says, enough to understand it alone.</summary>
    public static JsonObject DataOf(ReleaseEvent happened, Release after)
    {
        var stage = StageOf(happened) is { } key ? after.FindStage(key) : null;
        var data = new JsonObject
        {
            ["release"] = new JsonObject { ["id"] = after.Id.ToString(), ["title"] = after.Title },
            ["series"] = after.Series,
            ["state"] = Written(after.State),
            ["slot"] = after.HeldSlot is { } slot ? Written(slot) : null,
        };

        if (stage is not null)
        {
            data["stage"] = new JsonObject { ["key"] = stage.Plan.Key, ["name"] = stage.Plan.Name };
            data["note"] = stage.Latest?.Note;
        }

        if (happened is StageCompleted { Publication: true })
        {
            data["url"] = after.Url;
        }

        return data;
    }

    /// <summary>What a project's event says.</summary>
    public static JsonObject DataOf(Project after) => new()
    {
        ["project"] = new JsonObject { ["id"] = after.Id.ToString(), ["title"] = after.Title },
        ["goal"] = after.Goal,
        ["finishBy"] = after.FinishBy is { } date ? Written(date) : null,
        ["outcome"] = after.Outcome,
    };

    /// <summary>What a reminder says; what does not concern it is left out.</summary>
    public static JsonObject DataOf(ReminderRaised raised)
    {
        var facts = raised.Facts;
        var data = new JsonObject { ["title"] = raised.Title, ["subject"] = raised.Subject, ["late"] = raised.Late };

        Put("release", facts.Release is { } release
            ? new JsonObject { ["id"] = release.ToString(), ["title"] = raised.Title } : null);
        Put("series", facts.Series);
        Put("stage", facts.Stage is { } key ? new JsonObject { ["key"] = key, ["name"] = facts.StageName } : null);
        Put("slot", facts.Slot is { } slot ? Written(slot) : null);
        Put("slotAt", facts.SlotAt is { } slotAt ? Written(slotAt) : null);
        Put("dueAt", facts.DueAt is { } dueAt ? Written(dueAt) : null);
        Put("task", facts.Task is { } task
            ? new JsonObject { ["id"] = task.ToString(), ["title"] = raised.Title } : null);
        Put("when", facts.When);
        Put("important", facts.Important);
        Put("personal", facts.Personal);
        Put("project", facts.Project is { } project
            ? new JsonObject { ["id"] = project.ToString(), ["title"] = raised.Title } : null);
        Put("chance", facts.Chance is { } chance ? Written(chance) : null);
        Put("finishBy", facts.FinishBy is { } finishBy ? Written(finishBy) : null);

        return data;

        void Put(string name, JsonNode? value)
        {
            if (value is not null)
            {
                data[name] = value;
            }
        }
    }

    private static string? TypeOf(ReleaseEvent happened) => happened switch
    {
        ReleasePlanned => "release.planned",
        StageStarted => "stage.started",
        StageCompleted => "stage.completed",
        StageSkipped => "stage.skipped",
        StageReopened => "stage.reopened",
        StageBlocked => "stage.blocked",
        StageUnblocked => "stage.unblocked",
        ReleaseDropped => "release.dropped",
        _ => null,
    };

    private static string? StageOf(ReleaseEvent happened) => happened switch
    {
        StageStarted e => e.Stage,
        StageCompleted e => e.Stage,
        StageSkipped e => e.Stage,
        StageReopened e => e.Stage,
        StageBlocked e => e.Stage,
        StageUnblocked e => e.Stage,
        _ => null,
    };

    private static JsonNode? Written<T>(T value) => JsonSerializer.SerializeToNode(value, ApiJson.Options);
}
