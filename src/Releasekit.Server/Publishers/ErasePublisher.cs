using Marten;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.Feeds;
using Releasekit.Server.Http;
using Releasekit.Server.Imports;
using Releasekit.Server.Search;
using Releasekit.Server.Store;

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
        string id, Caller caller, IDocumentStore store, CancellationToken cancel)
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

        await Erase(store, id, cancel);

        return Http.Answers.NoContent();
    }

    /// <summary>
    /// Erases everything of a publisher. What could still write goes first and at once, its tokens and its imports; the
    /// rest after it, the publisher last, so that an erasure that broke off can be asked for again.
    /// </summary>
    public static async Task Erase(IDocumentStore store, string id, CancellationToken cancel)
    {
        await using (var session = store.LightweightSession(id))
        {
            await session.BeginTransactionAsync(cancel);
            await ImportLocks.ExcludeAllOf(session, cancel);
            session.DeleteWhere<AccessToken>(token => token.Publisher == id);
            session.DeleteWhere<Feed>(feed => feed.Publisher == id);
            session.DeleteWhere<ImportRun>(run => true);
            session.QueueSqlCommand(StagedRows.ForgetPublisherSql, id);
            session.QueueSqlCommand(JobRuns.ForgetPublisherSql, id);

            foreach (var forget in CalendarTables.ForgetPublisherSql)
            {
                session.QueueSqlCommand(forget, id);
            }

            await session.SaveChangesAsync(cancel);
        }

        await store.Advanced.DeleteAllTenantDataAsync(id, cancel);

        await using var last = store.LightweightSession();
        SearchIndex.Forget(last, id);
        last.Delete<Publisher>(id);
        await last.SaveChangesAsync(cancel);
    }
}
