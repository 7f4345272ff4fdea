using Marten;
using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;

namespace Releasekit.Server.Work;

/// <summary>GET /v1/appointments: in the order they were entered, with their occurrences in a window.</summary>
internal static class ListAppointments
{
    public static void Map(IEndpointRouteBuilder appointments) => appointments
        .MapGet("/", Handle)
        .WithName("listAppointments")
        .WithSummary("List appointments")
        .WithDescription("""
            In the order they were entered. With "from" (included) and "to" (excluded), local dates of the publisher,
            those that happen in between, each with its occurrences there; at most 800 days.
            """)
        .Needs(Scope.Read);

    private static async Task<Answer<PageBody<AppointmentBody>>> Handle(
        [AsParameters] AppointmentFilter filter, [AsParameters] EntryQuery common, [AsParameters] PageQuery page,
        Caller caller, HttpContext http, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        if ((page.Read<Guid>(http.Request, out var after) ?? filter.Check()) is { } problem)
        {
            return problem;
        }

        await using var session = store.QuerySession(caller.Publisher);
        var scene = await EntryScene.Load(session, clock.Now, cancel);
        var window = filter.Window(scene.Zone);
        var appointments = filter.Apply(common.Apply(session.Query<Appointment>(), clock.Now), scene)
            .Where(appointment => appointment.Id.CompareTo(after) > 0)
            .OrderBy(appointment => appointment.Id);
        var found = new List<Appointment>();

        // Whether a rule meets the window is for the domain to say; the rest of a page is read on until it is full.
        await foreach (var appointment in appointments.ToAsyncEnumerable(cancel))
        {
            if (filter.Keeps(appointment, scene))
            {
                found.Add(appointment);
            }

            if (found.Count > page.Size)
            {
                break;
            }
        }

        return page.Page(
            http, found, appointment => AppointmentKind.Show(appointment, window), appointment => appointment.Id);
    }
}

/// <param name="From">Included; goes with to.</param>
/// <param name="To">Excluded; goes with from.</param>
/// <param name="Sphere">work or personal.</param>
/// <param name="Busy">True: only busy ones; false: only the others.</param>
/// <param name="Q">Part of the title, in any case.</param>
internal sealed record AppointmentFilter(
    [property: FromQuery(Name = "from")] DateParameter? From = null,
    [property: FromQuery(Name = "to")] DateParameter? To = null,
    [property: FromQuery(Name = "sphere")] string? Sphere = null,
    [property: FromQuery(Name = "busy")] bool? Busy = null,
    [property: FromQuery(Name = "q")] string? Q = null) : IEntryFilter<Appointment>
{
    private const int LongestWindowDays = 800;

    public Problem? Check() => (From, To) switch
    {
        (null, null) => SphereParameter.Check(Sphere),
        ({ } from, { } to) when to.Value >= from.Value && to.Value <= from.Value.PlusDays(LongestWindowDays) =>
            SphereParameter.Check(Sphere),
        ({ }, { }) => Unfit($"'to' lies on or after 'from', {LongestWindowDays} days at most."),
        _ => Unfit("'from' and 'to' go together."),
    };

    /// <summary>The window in instants; null when none is asked for.</summary>
    public Interval? Window(DateTimeZone zone) => (From, To) is ({ } from, { } to)
        ? new Interval(zone.AtStartOfDay(from.Value).ToInstant(), zone.AtStartOfDay(to.Value).ToInstant())
        : null;

    public bool Keeps(Appointment entry, EntryScene scene) =>
        Window(scene.Zone) is not { } window || entry.Within(window).Count > 0;

    public IQueryable<Appointment> Apply(IQueryable<Appointment> entries, EntryScene scene)
    {
        var appointments = entries;

        if (To?.Value is { } to)
        {
            // A day later for zones in which it is that day already.
            var latest = to.PlusDays(1);
            appointments = appointments.Where(appointment => appointment.Date < latest);
        }

        if (SphereParameter.Read(Sphere) is { } sphere)
        {
            appointments = appointments.Where(appointment => appointment.Sphere == sphere);
        }

        if (Busy is { } busy)
        {
            appointments = appointments.Where(appointment => appointment.IsBusy == busy);
        }

        return Q is { Length: > 0 } text
            ? appointments.Where(appointment => appointment.Title.Contains(text, StringComparison.OrdinalIgnoreCase))
            : appointments;
    }

    private static Problem Unfit(string detail) =>
        Problems.Of("query-invalid", detail, new ProblemError("to", detail));
}
