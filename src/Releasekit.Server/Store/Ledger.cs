using JasperFx;
using Marten;
using Marten.Exceptions;
using Releasekit.Server.Http;

namespace Releasekit.Server.Store;

/// <summary>
/// The one place where events are appended: everything a request changes is one transaction, and when others changed
/// the
/// same streams meanwhile, the request is decided anew on what is there now.
/// </summary>
internal sealed class Ledger(IDocumentStore store, Origin origin)
{
    private const int MostAttempts = 8;

    /// <summary>
    /// Runs <paramref name="work"/> in one transaction of <paramref name="publisher"/>; a problem undoes all of it.
    /// </summary>
    /// <param name="work">May run several times, each time on a fresh unit of work; must not keep anything in
    /// between.</param>
    public async Task<Answer<TBody>> Write<TBody>(
        string publisher, Func<UnitOfWork, Task<Answer<TBody>>> work, CancellationToken cancel)
    {
        for (var attempt = 1; ; attempt++)
        {
            await using var session = store.LightweightSession(publisher);
            origin.Mark(session);
            var unit = new UnitOfWork(session, cancel);
            var answer = await work(unit);

            if (answer.IsProblem)
            {
                return answer;
            }

            try
            {
                await session.SaveChangesAsync(cancel);
                return answer;
            }
            catch (Exception e) when (IsRace(e) && attempt < MostAttempts)
            {
                await Task.Delay(Random.Shared.Next(2, 10 * attempt), cancel);
            }
            catch (Exception e) when (IsRace(e))
            {
                return Problems.Of("busy", "Others changed the same thing at the same time; repeat the request.");
            }
        }
    }

    private static bool IsRace(Exception e) => e is ConcurrencyException or ExistingStreamIdCollisionException
        or JasperFx.Events.ExistingStreamIdCollisionException or DocumentAlreadyExistsException
        || IsRace((e as MartenCommandException)?.InnerException as Npgsql.PostgresException)
        || IsRace(e as Npgsql.PostgresException);

    /// <summary>Unique violation, deadlock, serialization failure (PostgreSQL, appendix A).</summary>
    private static bool IsRace(Npgsql.PostgresException? e) => e?.SqlState is "23505" or "40P01" or "40001";
}
