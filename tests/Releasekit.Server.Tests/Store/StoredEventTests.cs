using System.Text.Json;
using System.Text.Json.Nodes;
using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Server.Store;

namespace Releasekit.Server.Tests.Store;

/// <summary>
/// What was stored once is read for ever. <c>RELEASEKIT_ACCEPT=1</c> writes the file of an event that has none yet; an
/// existing one is never written again.
/// </summary>
public sealed class StoredEventTests
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true };
    private static readonly StoreOptions Options = Configured();

    public static TheoryData<string> Names => [.. ToldEvents.ByName.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task A_stored_event_means_what_it_meant(string name)
    {
        var told = ToldEvents.ByName[name];
        var text = await Stored(name);

        var read = Options.Serializer().FromJson(told.GetType(), Stream(text));

        Assert.Equivalent(told, read, strict: true);
        Assert.True(JsonNode.DeepEquals(Written(told), Written(read)), $"{name}: {Written(read)}");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Every_stored_member_is_still_written_as_it_was(string name)
    {
        var stored = JsonNode.Parse(await Stored(name))!.AsObject();
        var written = Written(ToldEvents.ByName[name]);

        Assert.All(stored, member => Assert.True(
            JsonNode.DeepEquals(member.Value, written[member.Key]),
            $"{name}.{member.Key} was {member.Value}, is {written[member.Key]}"));
    }

    [Fact]
    public void Every_kind_of_event_is_told_under_the_name_it_is_stored_by()
    {
        var named = ((IReadOnlyStoreOptions)Options).Events.AllKnownEventTypes()
            .Where(known => known.EventType.Assembly == typeof(ReleaseEvent).Assembly)
            .Select(known => $"{known.EventTypeName}: {known.EventType.Name}");

        Assert.Equal(
            named.Order(StringComparer.Ordinal),
            ToldEvents.ByName.Select(told => $"{told.Key}: {told.Value.GetType().Name}").Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Every_kind_of_event_has_a_name()
    {
        var told = ToldEvents.ByName.Values.Select(e => e.GetType()).ToHashSet();

        Assert.Equal([], typeof(ReleaseEvent).Assembly.GetTypes()
            .Where(type => type is { IsAbstract: false, BaseType: { IsAbstract: true } kind }
                && kind.Name.EndsWith("Event", StringComparison.Ordinal))
            .Where(type => !told.Contains(type))
            .Select(type => type.Name));
    }

    [Fact]
    public void The_stored_files_are_those_of_the_events() => Assert.Equal(
        ToldEvents.ByName.Keys.Order(StringComparer.Ordinal),
        Directory.GetFiles(Path.Combine(AppContext.BaseDirectory, "Store", "Stored"))
            .Select(Path.GetFileNameWithoutExtension)
            .Order(StringComparer.Ordinal));

    private static StoreOptions Configured()
    {
        var options = new StoreOptions();
        StoredJson.Use(options);
        EventNames.Map(options.Events);
        return options;
    }

    private static JsonObject Written(object told) => JsonNode.Parse(Options.Serializer().ToJson(told))!.AsObject();

    private static MemoryStream Stream(string text) => new(System.Text.Encoding.UTF8.GetBytes(text));

    private static async Task<string> Stored(string name)
    {
        var cancel = TestContext.Current.CancellationToken;
        var file = Path.Combine(AppContext.BaseDirectory, "Store", "Stored", $"{name}.json");

        if (!File.Exists(file) && Environment.GetEnvironmentVariable("RELEASEKIT_ACCEPT") == "1")
        {
            var text = Written(ToldEvents.ByName[name]).ToJsonString(Indented) + "\n";
            await File.WriteAllTextAsync(Path.Combine(Sources(), $"{name}.json"), text, cancel);
            return text;
        }

        return await File.ReadAllTextAsync(file, cancel);
    }

    private static string Sources()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);

        while (!File.Exists(Path.Combine(folder.FullName, "Releasekit.sln")))
        {
            folder = folder.Parent!;
        }

        return Path.Combine(folder.FullName, "tests", "Releasekit.Server.Tests", "Store", "Stored");
    }
}
