using Marten;
using Releasekit.Domain.Releases;
using Releasekit.Server.Clock;

namespace Releasekit.Server.Imports;

/// <summary>
/// The releases a series has, by all that a row can be known by. Dropped ones are known by their external id only.
/// </summary>
internal sealed class KnownReleases
{
    private const string Sql = """
        select data ->> 'externalId', slot, published_at, data ->> 'title', state = 'Dropped'
        from releasekit.mt_doc_release
        where tenant_id = $1 and series = $2
        """;

    private readonly HashSet<string> _externalIds = [];
    private readonly HashSet<LocalDate> _slots = [];
    private readonly HashSet<Instant> _publications = [];
    private readonly HashSet<string> _titles = [];

    public static async Task<KnownReleases> Load(IQuerySession session, string series, CancellationToken cancel)
    {
        var known = new KnownReleases();
        await using var command = Store.Sql.Command(Sql, session.TenantId, series);
        await using var rows = await session.ExecuteReaderAsync(command, cancel);

        while (await rows.ReadAsync(cancel))
        {
            if (!await rows.IsDBNullAsync(0, cancel))
            {
                known._externalIds.Add(rows.GetString(0));
            }

            if (rows.GetBoolean(4))
            {
                continue;
            }

            if (!await rows.IsDBNullAsync(1, cancel))
            {
                known._slots.Add(rows.GetFieldValue<LocalDate>(1));
            }

            if (!await rows.IsDBNullAsync(2, cancel))
            {
                known._publications.Add(rows.GetFieldValue<Instant>(2).Cut());
            }

            known._titles.Add(rows.GetString(3));
        }

        return known;
    }

    /// <summary>Whether the row tells of a release that is there already.</summary>
    public bool Has(ImportedRelease row, string publication) => row switch
    {
        { ExternalId: { } id } => _externalIds.Contains(id),
        { Slot: { } slot } => _slots.Contains(slot),
        _ when PublishedAt(row, publication) is { } at => _publications.Contains(at),
        _ => _titles.Contains(row.Title),
    };

    /// <summary>Whether another release holds that slot.</summary>
    public bool Holds(LocalDate slot) => _slots.Contains(slot);

    private static Instant? PublishedAt(ImportedRelease row, string publication) =>
        row.Stages.FirstOrDefault(stage => stage.Stage == publication)?.CompletedAt;
}
