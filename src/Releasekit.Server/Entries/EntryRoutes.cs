using Releasekit.Domain.Entries;
using Releasekit.Server.Http;

namespace Releasekit.Server.Entries;

/// <summary>The routes that are the same for every kind of entry.</summary>
internal static class EntryRoutes
{
    /// <returns>The group, for its list and what a kind has besides.</returns>
    public static RouteGroupBuilder MapEntries<TEntry, TValues, TBody>(
        this IEndpointRouteBuilder api, EntryKind<TEntry, TValues, TBody> kind, string tag)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        var entries = api.MapGroup($"/{kind.Name}s").WithTags(tag);

        CreateEntry.Map(entries, kind);
        GetEntry.Map(entries, kind);
        ChangeEntry.Map(entries, kind);
        RemoveEntry.Map(entries, kind);
        RestoreEntry.Map(entries, kind);

        return entries;
    }

    /// <summary>The end of an operation's name: Idea.</summary>
    public static string Noun(string name) => char.ToUpperInvariant(name[0]) + name[1..];

    /// <summary>With its article, as prose wants it.</summary>
    public static string WithArticle(string name) =>
        name[0] is 'a' or 'e' or 'i' or 'o' or 'u' ? $"an {name}" : $"a {name}";
}
