namespace Releasekit.Server.Releases;

/// <summary>Every route of releases, in the order a release meets them.</summary>
internal static class ReleaseRoutes
{
    public static void MapReleases(this IEndpointRouteBuilder api)
    {
        var releases = api.MapGroup("/releases").WithTags("Releases");

        PlanRelease.Map(releases);
        ListReleases.Map(releases);
        GetRelease.Map(releases);
        ChangeRelease.Map(releases);
        DropRelease.Map(releases);
        RestoreRelease.Map(releases);
        GetHistory.Map(releases);
        GetReleaseSchedule.Map(releases);
        RecordTransition.Map(releases);
        AmendTransition.Map(releases);
        TickChecklistItem.Map(releases);

        RecordTransitions.Map(api.MapGroup("/transitions").WithTags("Releases"));
    }
}
