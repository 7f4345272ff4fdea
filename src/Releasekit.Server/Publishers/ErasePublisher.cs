using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Feeds;
using Releasekit.Server.Http;
using Releasekit.Server.Imports;
using Releasekit.Server.Search;

namespace Releasekit.Server.Publishers;

/// <summary>DELETE /v1/publishers/{id}: erases a publisher with everything it holds, for good.</summary>
internal static class ErasePublisher
{
    public static void Map(IEndpointRouteBuilder publishers) => publishers
        .MapDelete("/{id}", Handle)
        .WithName("erasePublisher")
        .WithSummary("Erase a publisher")
        .WithDescription(
            "Everything it holds is gone for good: releases, history, tokens, feeds. The caller's own publisher is "
                + "refused.")
        .Answers(204, 404, 409)
        .Needs(Scope.Operator);

    private static async Task<Answer<Nothing>> Handle(
        string id, Caller caller, IDocumentStore store, StagedRows rows, CancellationToken cancel)
    {
        await using var session = store.QuerySession();

        if (await session.LoadAsync<Publisher>(id, cancel) is null)
        {
            return Problems.NotFound($"publisher '{id}'");
        }

        if (id == caller.Publisher)
        {
            return Problems.Of("in-use", "This is the publisher of the token you use; its erasure would lock you out.");
        }

        await Erase(store, rows, id, cancel);

        return Http.Answers.NoContent();
    }

    /// <summary>
    /// Erases everything of a publisher; tokens first, so that nothing is written while the rest goes.
    /// </summary>
    public static async Task Erase(IDocumentStore store, StagedRows rows, string id, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        session.DeleteWhere<AccessToken>(token => token.Publisher == id);
        session.DeleteWhere<Feed>(feed => feed.Publisher == id);
        await session.SaveChangesAsync(cancel);

        await rows.ForgetAllOf(id, cancel);
        await store.Advanced.DeleteAllTenantDataAsync(id, cancel);

        SearchIndex.Forget(session, id);
        session.Delete<Publisher>(id);
        await session.SaveChangesAsync(cancel);
    }
}
