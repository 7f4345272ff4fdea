using Marten;
using Releasekit.Domain.Work;

namespace Releasekit.Server.Work;

/// <summary>When the diary leaves no time for work.</summary>
internal static class BusyTimes
{
    /// <summary>How far ahead a diary is read; nobody keeps one for longer.</summary>
    private static readonly Duration Ahead = Duration.FromDays(800);

    /// <summary>The busy appointments from <paramref name="now"/> on, personal ones too; may overlap.</summary>
    /// <param name="since">From then on, where the past is of interest; UTC.</param>
    public static async Task<IReadOnlyList<Interval>> Load(
        IQuerySession session, Instant now, CancellationToken cancel, Instant? since = null)
    {
        var window = new Interval(since ?? now, now + Ahead);
        var busy = await session.Query<Appointment>()
            .Where(appointment => appointment.RemovedAt == null && appointment.IsBusy)
            .ToListAsync(cancel);

        return [.. busy.SelectMany(appointment => appointment.Within(window)).Select(occurrence => occurrence.Time)];
    }
}
