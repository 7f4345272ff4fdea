namespace Releasekit.Server.Publishers;

/// <summary>Every route of publishers: the operator's, and the token's own.</summary>
internal static class PublisherRoutes
{
    public static void MapPublishers(this IEndpointRouteBuilder api)
    {
        var publishers = api.MapGroup("/publishers").WithTags("Publishers");
        OpenPublisher.Map(publishers);
        ListPublishers.Map(publishers);
        ErasePublisher.Map(publishers);

        var publisher = api.MapGroup("/publisher").WithTags("Publishers");
        GetPublisher.Map(publisher);
        ChangePublisher.Map(publisher);
    }
}
