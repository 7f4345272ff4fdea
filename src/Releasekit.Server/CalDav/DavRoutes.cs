using Microsoft.AspNetCore.Http.HttpResults;
using Releasekit.Server.Access;
using Releasekit.Server.CalDav.Objects;
using Releasekit.Server.CalDav.Ticking;

namespace Releasekit.Server.CalDav;

/// <summary>Marks routes of CalDAV: they take the token as the password of Basic, as calendar apps send it.</summary>
internal sealed record TakesBasic
{
    public static readonly TakesBasic Yes = new();
}

/// <summary>Every address of CalDAV (RFC 4791), with what it is read and written by.</summary>
internal static class DavRoutes
{
    private const string Everything = "/dav/{**path}";

    private static readonly string[] Reading = ["PROPFIND", "REPORT", "GET", "HEAD"];

    /// <summary>Not offered: no locks, no copies, no collections of the client's own.</summary>
    private static readonly string[] Refused =
        ["DELETE", "MKCALENDAR", "MKCOL", "COPY", "MOVE", "LOCK", "UNLOCK", "ACL", "POST"];

    public static IServiceCollection AddCalDav(this IServiceCollection services)
    {
        services.AddSingleton<ObjectReading>();
        services.AddSingleton<ObjectRefresh>();
        services.AddSingleton<CalendarNotices>();
        services.AddSingleton<TickWriting>();

        return services;
    }

    public static void MapCalDav(this IEndpointRouteBuilder routes)
    {
        var open = routes.MapGroup(string.Empty).ExcludeFromDescription().NeedsNoToken();
        open.MapMethods("/.well-known/caldav", [.. Reading, .. Refused, "OPTIONS"], WellKnown);
        open.MapMethods(Everything, ["OPTIONS"], DavOptions.Answer);
        open.MapMethods("/", ["OPTIONS"], DavOptions.Answer);

        var read = routes.MapGroup(string.Empty).ExcludeFromDescription().WithMetadata(TakesBasic.Yes)
            .Needs(Scope.Read);
        read.MapMethods("/", ["PROPFIND"], FindProperties.Handle);
        read.MapMethods(Everything, ["PROPFIND"], FindProperties.Handle);
        read.MapMethods(Everything, ["REPORT"], Report.Handle);
        read.MapMethods(Everything, ["GET", "HEAD"], GetObject.Handle);

        var write = routes.MapGroup(string.Empty).ExcludeFromDescription().WithMetadata(TakesBasic.Yes)
            .Needs(Scope.Read);
        write.MapMethods(Everything, ["PUT"], PutObject.Handle);
        write.MapMethods(Everything, ["PROPPATCH"], PatchProperties.Handle);
        write.MapMethods(Everything, Refused, DavOptions.Refuse);
    }

    /// <summary>What calendar apps wrote in vain.</summary>
    public static void MapCalendarNotices(this IEndpointRouteBuilder api) => CalendarNotices.Map(api);

    /// <summary>RFC 6764, 5: every method is sent on to where the service begins.</summary>
    private static RedirectHttpResult WellKnown(HttpContext http)
    {
        http.Response.Headers.CacheControl = "public, max-age=3600";

        return TypedResults.Redirect(DavPlaces.Context.ToString(), permanent: true, preserveMethod: true);
    }
}
