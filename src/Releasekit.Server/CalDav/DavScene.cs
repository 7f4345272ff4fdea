using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav;

/// <summary>What a request of CalDAV is answered from: the caller's own calendars, brought up to now.</summary>
internal sealed class DavScene
{
    private readonly IReadOnlyDictionary<string, CollectionState> _states;

    private DavScene(
        Publisher publisher, bool canWrite, IReadOnlyList<CalendarCollection> collections,
        IReadOnlyDictionary<string, CollectionState> states, ObjectReading objects)
    {
        (Publisher, CanWrite, Collections, _states, Objects) = (publisher, canWrite, collections, states, objects);
    }

    public Publisher Publisher { get; }

    /// <summary>Whether the token may change anything.</summary>
    public bool CanWrite { get; }

    public IReadOnlyList<CalendarCollection> Collections { get; }

    public ObjectReading Objects { get; }

    public static async Task<DavScene> Load(HttpContext http, CancellationToken cancel)
    {
        var caller = http.Features.Get<Caller>()!;
        var services = http.RequestServices;
        await services.GetRequiredService<ObjectRefresh>().Run(caller.Publisher, cancel);
        await using var session = services.GetRequiredService<IDocumentStore>().QuerySession(caller.Publisher);
        var publisher = await session.LoadAsync<Publisher>(caller.Publisher, cancel);
        var series = await session.Query<Series>().OrderBy(one => one.Slug).ToListAsync(cancel);
        var objects = services.GetRequiredService<ObjectReading>();

        return new(
            publisher!,
            caller.Scopes.Contains(Scope.Write),
            [
                .. series.Select(CalendarCollection.Of), CalendarCollection.Stages, CalendarCollection.Tasks,
                CalendarCollection.Projects,
            ],
            await objects.States(caller.Publisher, cancel),
            objects);
    }

    /// <summary>The calendar of that key; null when there is none.</summary>
    public CalendarPlace? Calendar(string key) =>
        Collections.FirstOrDefault(one => one.Key == key) is { } collection
        && _states.TryGetValue(key, out var state)
            ? new(DavPlaces.Calendar(Publisher.Id, key), collection, state)
            : null;

    /// <summary>Every calendar.</summary>
    public IEnumerable<CalendarPlace> Calendars() =>
        Collections.Select(collection => Calendar(collection.Key)).OfType<CalendarPlace>();

    /// <summary>What the request is for.</summary>
    public async Task<DavResource?> Find(HttpContext http) =>
        Href.TryParse(http.Request.Path.Value ?? "/") is { } href ? await Find(href, http.RequestAborted) : null;

    /// <summary>What is at an address; null for nothing, and for what is another person's.</summary>
    public async Task<DavResource?> Find(Href href, CancellationToken cancel) => href.Segments switch
    {
        [] or [DavPlaces.Root] or [DavPlaces.Root, DavPlaces.Principals] =>
            new WayIn(Href.Of(isCollection: true, [.. href.Segments])),
        [DavPlaces.Root, DavPlaces.Principals, var person] when person == Publisher.Id =>
            new PrincipalPlace(DavPlaces.Principal(person)),
        [DavPlaces.Root, DavPlaces.Calendars, var person] when person == Publisher.Id =>
            new HomePlace(DavPlaces.Home(person)),
        [DavPlaces.Root, DavPlaces.Calendars, var person, var key] when person == Publisher.Id => Calendar(key),
        [DavPlaces.Root, DavPlaces.Calendars, var person, var key, var name] when person == Publisher.Id =>
            Calendar(key) is { } calendar ? await Item(calendar, name, cancel) : null,
        _ => null,
    };

    /// <summary>The object of that name; null when there is none.</summary>
    public async Task<ItemPlace?> Item(CalendarPlace calendar, string name, CancellationToken cancel) =>
        await Objects.Named(Publisher.Id, calendar.Collection.Key, [name], cancel) is [var stored]
            ? Item(calendar, stored)
            : null;

    public ItemPlace Item(CalendarPlace calendar, StoredObject stored) =>
        new(DavPlaces.Item(Publisher.Id, calendar.Collection.Key, stored.Name), calendar, stored);
}
