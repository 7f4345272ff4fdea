using Releasekit.Domain.Entries;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Entries;

/// <summary>POST /v1/{entries}: notes something down.</summary>
internal static class CreateEntry
{
    public static void Map<TEntry, TValues, TBody>(
        IEndpointRouteBuilder entries, EntryKind<TEntry, TValues, TBody> kind)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        // In a variable, as the framework's analyzer stumbles over a body of any type.
        Delegate handle = (
            TValues body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel) =>
            Keep(kind, body, caller, ledger, clock, cancel);

        entries.MapPost("/", handle)
            .WithName($"create{EntryRoutes.Noun(kind.Name)}")
            .WithSummary($"Note {EntryRoutes.WithArticle(kind.Name)}")
            .WithDescription(kind.Description)
            .Answers(201, 422)
            .Needs(Scope.Write);
    }

    /// <summary>Notes an entry down and shows it as made.</summary>
    public static Task<Answer<TBody>> Keep<TEntry, TValues, TBody>(
        EntryKind<TEntry, TValues, TBody> kind, TValues body, Caller caller, Ledger ledger, ServiceClock clock,
        CancellationToken cancel)
        where TEntry : Entry
        where TValues : class
        where TBody : class, ITagged
    {
        var id = NewIds.Next();
        return ledger.Write<TBody>(caller.Publisher, async unit =>
        {
            var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);
            var (entry, problem) = await EntryWriting.Write(kind, unit, null, body, id, scene);

            return problem is not null
                ? problem
                : Http.Answers.Created(kind.AddressOf(id), kind.Show(entry, scene));
        }, cancel);
    }
}
