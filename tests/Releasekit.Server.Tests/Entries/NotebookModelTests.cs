using Releasekit.Client;

namespace Releasekit.Server.Tests.Entries;

/// <summary>
/// Random sequences of commands, driven against the service and against a plain model of the rules side by side: what
/// is listed, found, ticked, carried over and restorable must be the same after every step.
/// </summary>
public sealed class NotebookModelTests(Service shared)
{
    private static readonly string[] Words = ["tide", "mud", "eelgrass", "weir", "gull", "ebb", "salt", "creek"];

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public async Task The_notebook_does_what_the_model_of_its_rules_does(int seed)
    {
        await using var service = await shared.StartAnother();
        var now = Instant.FromUtc(2026, 3, 2, 9, 0);
        service.Clock.StandAt(now);
        var client = (await service.NewPublisher()).Client;
        var random = new Random(seed);
        var model = new NotebookModel();

        for (var step = 0; step < 120; step++)
        {
            now += Duration.FromHours(random.Next(1, 30));
            service.Clock.StandAt(now);
            await Act(client, model, random, now);
            await Compare(client, model, now);
        }

        Assert.NotEmpty(model.Ideas);
        Assert.NotEmpty(model.Tasks);
    }

    private static Task Act(ReleasekitClient client, NotebookModel model, Random random, Instant now) =>
        random.Next(9) switch
        {
            0 or 1 => NoteIdea(client, model, random, now),
            2 => PlanTask(client, model, random, now),
            3 => ChangeIdea(client, model, random),
            4 => RemoveIdea(client, model, random, now),
            5 => RestoreIdea(client, model, random, now),
            6 => Tick(client, model, random, isDone: true),
            7 => Tick(client, model, random, isDone: false),
            _ => RemoveTask(client, model, random),
        };

    private static async Task NoteIdea(ReleasekitClient client, NotebookModel model, Random random, Instant now)
    {
        var text = Sentence(random);
        var idea = await client.Ideas.Create(new(text, Worth: random.Next(1, 4))).Value();
        model.Ideas[idea.Id] = new(text, now);
    }

    private static async Task PlanTask(ReleasekitClient client, NotebookModel model, Random random, Instant now)
    {
        var today = NotebookModel.Today(now);
        var (when, last) = random.Next(2) == 0
            ? (today.PlusDays(random.Next(-3, 9)) is var day ? (Iso(day), day) : default)
            : (Iso(today)[..7], today.With(DateAdjusters.EndOfMonth));
        var task = await client.Tasks.Create(new(Sentence(random), when)).Value();
        model.Tasks[task.Id] = new(last, when.Length == 7);
    }

    private static async Task ChangeIdea(ReleasekitClient client, NotebookModel model, Random random)
    {
        if (Any(random, model.Ideas.Where(idea => idea.Value.RemovedAt is null)) is not { } id)
        {
            return;
        }

        var text = Sentence(random);
        var tag = (await client.Ideas.Get(id)).Headers!.ETag!.Tag;
        await client.Ideas.Change(id, new() { ["text"] = text }, tag).Value();
        model.Ideas[id] = model.Ideas[id] with { Text = text };
    }

    private static async Task RemoveIdea(ReleasekitClient client, NotebookModel model, Random random, Instant now)
    {
        if (Any(random, model.Ideas.Where(idea => idea.Value.RemovedAt is null)) is { } id)
        {
            var tag = (await client.Ideas.Get(id)).Headers!.ETag!.Tag;
            Assert.True((await client.Ideas.Remove(id, tag)).IsSuccessStatusCode);
            model.Ideas[id] = model.Ideas[id] with { RemovedAt = now };
        }
    }

    private static async Task RestoreIdea(ReleasekitClient client, NotebookModel model, Random random, Instant now)
    {
        if (Any(random, model.Ideas) is { } id)
        {
            var answer = await client.Ideas.Restore(id);
            var isKept = model.Ideas[id].RemovedAt is not { } removed || now - removed <= Duration.FromDays(30);
            Assert.Equal(isKept, answer.IsSuccessStatusCode);
            model.Ideas[id] = isKept ? model.Ideas[id] with { RemovedAt = null } : model.Ideas[id];
        }
    }

    private static async Task Tick(ReleasekitClient client, NotebookModel model, Random random, bool isDone)
    {
        if (Any(random, model.Tasks) is { } id)
        {
            var task = isDone
                ? await client.Tasks.Complete(id, new()).Value()
                : await client.Tasks.Reopen(id).Value();
            Assert.Equal(isDone, task.Done);
            model.Tasks[id] = model.Tasks[id] with { IsDone = isDone };
        }
    }

    private static async Task RemoveTask(ReleasekitClient client, NotebookModel model, Random random)
    {
        if (Any(random, model.Tasks) is { } id)
        {
            var tag = (await client.Tasks.Get(id)).Headers!.ETag!.Tag;
            Assert.True((await client.Tasks.Remove(id, tag)).IsSuccessStatusCode);
            model.Tasks.Remove(id);
            Assert.Equal(404, (await client.Tasks.Get(id).Problem()).Status);
        }
    }

    private static async Task Compare(ReleasekitClient client, NotebookModel model, Instant now)
    {
        var ideas = await client.Ideas.List(limit: 200).Value();
        Assert.Equal(
            model.Standing.Select(idea => (idea.Key, idea.Value.Text)),
            ideas.Items.Select(idea => (idea.Id, idea.Text)));

        var tasks = await client.Tasks.List(limit: 200).Value();
        var today = NotebookModel.Today(now);
        Assert.Equal(
            model.Tasks.OrderBy(task => task.Key)
                .Select(task => (task.Key, task.Value.IsDone, task.Value.Carried(today))),
            tasks.Items.OrderBy(task => task.Id).Select(task => (task.Id, task.Done, task.CarriedOver)));

        foreach (var word in Words.Where(word => model.Standing.Any(idea => idea.Value.Text.Contains(word))))
        {
            var hits = await client.Search.Find(word, "idea", limit: 200).Value();
            Assert.Equal(
                model.Standing.Where(idea => idea.Value.Text.Contains(word)).Select(idea => idea.Key).Order(),
                hits.Items.Select(hit => hit.Id).Order());
        }
    }

    private static string Sentence(Random random) =>
        string.Join(' ', Enumerable.Range(0, random.Next(1, 4)).Select(_ => Words[random.Next(Words.Length)]));

    private static Guid? Any<T>(Random random, IEnumerable<KeyValuePair<Guid, T>> entries) =>
        entries.Select(entry => entry.Key).Order().ToArray() is { Length: > 0 } ids
            ? ids[random.Next(ids.Length)]
            : null;

    private static string Iso(LocalDate date) => NodaTime.Text.LocalDatePattern.Iso.Format(date);
}

/// <summary>The rules of the notebook, as plainly as they can be said. UTC and Lisbon agree about winter.</summary>
internal sealed class NotebookModel
{
    private static readonly DateTimeZone Lisbon = DateTimeZoneProviders.Tzdb["Europe/Lisbon"];

    public Dictionary<Guid, ModelIdea> Ideas { get; } = [];

    public Dictionary<Guid, ModelTask> Tasks { get; } = [];

    public IEnumerable<KeyValuePair<Guid, ModelIdea>> Standing =>
        Ideas.Where(idea => idea.Value.RemovedAt is null).OrderBy(idea => idea.Key);

    public static LocalDate Today(Instant now) => now.InZone(Lisbon).Date;
}

internal sealed record ModelIdea(string Text, Instant NotedAt, Instant? RemovedAt = null);

/// <param name="Last">The last day of its day or month.</param>
internal sealed record ModelTask(LocalDate Last, bool IsMonth, bool IsDone = false)
{
    /// <summary>Counted one by one: every further day, or every further first of a month, carries it over.</summary>
    public int Carried(LocalDate today)
    {
        var count = 0;

        for (var day = Last.PlusDays(1); !IsDone && day <= today; day = day.PlusDays(1))
        {
            count += !IsMonth || day.Day == 1 ? 1 : 0;
        }

        return count;
    }
}
