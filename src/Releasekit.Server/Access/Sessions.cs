using System.Diagnostics.CodeAnalysis;
using System.Globalization;
using System.Security.Claims;
using System.Security.Cryptography;
using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.DataProtection;
using Releasekit.Server.Clock;

namespace Releasekit.Server.Access;

/// <summary>
/// Who looks at the pages: a sealed cookie that names the token it was opened with, never the token itself. The token
/// is looked up with every request, so revoking it ends its sessions at once.
/// </summary>
internal sealed class Sessions(IDataProtectionProvider protection, IAntiforgery forms, ServiceClock clock)
{
    public const string CookieName = "releasekit-session";

    /// <summary>How long a session lasts.</summary>
    private static readonly Duration Lasts = Duration.FromDays(30);

    private readonly IDataProtector _seal = protection.CreateProtector("Releasekit.Sessions");

    /// <summary>Opens a session for a token.</summary>
    public void Open(HttpContext http, Guid token)
    {
        var name = Convert.ToHexStringLower(RandomNumberGenerator.GetBytes(16));
        var ends = (clock.Now + Lasts).ToUnixTimeSeconds().ToString(CultureInfo.InvariantCulture);
        http.Response.Cookies.Append(CookieName, _seal.Protect($"{token:N} {ends} {name}"), Options(http));
    }

    /// <summary>Ends it in this browser.</summary>
    public static void Close(HttpContext http) => http.Response.Cookies.Delete(CookieName, Options(http));

    /// <summary>The token the request's session was opened with; null without one that is still good.</summary>
    public Guid? TokenOf(HttpContext http)
    {
        if (http.Request.Cookies[CookieName] is not { Length: > 0 and < 1_000 } cookie || !TryOpen(cookie, out var text)
            || text.Split(' ') is not [var token, var ends, var name]
            || clock.Now >= Instant.FromUnixTimeSeconds(long.Parse(ends, CultureInfo.InvariantCulture)))
        {
            return null;
        }

        // Forms are sealed for who is signed in: one session's form is no good in another.
        http.User = new ClaimsPrincipal(new ClaimsIdentity([new(ClaimTypes.NameIdentifier, name)], "session"));
        return Guid.ParseExact(token, "N");
    }

    /// <summary>Whether what is sent was written on one of our own pages in the same session.</summary>
    public Task<bool> IsFromOurPage(HttpContext http) => forms.IsRequestValidAsync(http);

    private bool TryOpen(string cookie, [NotNullWhen(true)] out string? text)
    {
        try
        {
            text = _seal.Unprotect(cookie);
            return true;
        }
        catch (CryptographicException)
        {
            text = null;
            return false;
        }
    }

    private static CookieOptions Options(HttpContext http) => new()
    {
        HttpOnly = true,
        SameSite = SameSiteMode.Lax,
        Secure = http.Request.IsHttps,
        MaxAge = Lasts.ToTimeSpan(),
        Path = "/",
        IsEssential = true,
    };
}

/// <summary>A page for people: also let through by a session, and its refusals are pages too.</summary>
internal sealed record ShownAsPage;

internal static class PageAccess
{
    /// <summary>Says that a session will do in place of a token, and that refusals are shown as pages.</summary>
    public static TBuilder ForPeople<TBuilder>(this TBuilder route)
        where TBuilder : IEndpointConventionBuilder => route.WithMetadata(new ShownAsPage());
}
