using Marten;
using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Store;

/// <summary>Reads of a series' releases just what its judgement needs, without their documents.</summary>
internal static class ReleaseMarks
{
    private const string OfSeries = """
        select id, slot, published_at from releasekit.mt_doc_release
        where tenant_id = $1 and series = $2 and state <> 'Dropped'
        """;

    public static async Task<IReadOnlyCollection<ReleaseMark>> Of(
        IQuerySession session, string series, CancellationToken cancel)
    {
        await using var command = Sql.Command(OfSeries, session.TenantId, series);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);
        var marks = new List<ReleaseMark>();

        while (await rows.ReadAsync(cancel))
        {
            marks.Add(new(
                rows.GetGuid(0),
                await rows.IsDBNullAsync(1, cancel) ? null : rows.GetFieldValue<LocalDate>(1),
                await rows.IsDBNullAsync(2, cancel) ? null : rows.GetFieldValue<Instant>(2)));
        }

        return marks;
    }

    /// <summary>The release that holds a slot; null when nobody does.</summary>
    public static async Task<Guid?> HolderOf(
        IQuerySession session, string series, LocalDate slot, CancellationToken cancel)
    {
        await using var command = Sql.Command($"{OfSeries} and slot = $3", session.TenantId, series, slot);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);

        return await rows.ReadAsync(cancel) ? rows.GetGuid(0) : null;
    }

    /// <summary>Those of <paramref name="slots"/> that somebody holds.</summary>
    public static async Task<IReadOnlySet<LocalDate>> HeldOf(
        IQuerySession session, string series, LocalDate[] slots, CancellationToken cancel)
    {
        await using var command = Sql.Command($"{OfSeries} and slot = any($3)", session.TenantId, series, slots);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);
        var held = new HashSet<LocalDate>();

        while (await rows.ReadAsync(cancel))
        {
            held.Add(rows.GetFieldValue<LocalDate>(1));
        }

        return held;
    }
}
