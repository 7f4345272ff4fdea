using System.Globalization;
using Releasekit.Server.Access;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages;

/// <summary>GET and POST /sign-in, POST /sign-out: a token opens a session in this browser.</summary>
internal static class SignIn
{
    private const string Path = "/sign-in";
    private const string UsualNext = "/month";

    private const string NoToken =
        "A token is needed: the line in the file owner-token, or one made with POST /v1/tokens.";

    private const string WrongToken =
        "This is no token of this service, or it was revoked. It has 43 characters; copy the whole line of the file "
        + "owner-token.";

    public static void Map(IEndpointRouteBuilder pages)
    {
        pages.MapGet("/", () => TypedResults.Redirect(UsualNext)).NeedsNoToken();
        pages.MapGet(Path, Show).NeedsNoToken();
        pages.MapPost(Path, Enter).NeedsNoToken();
        pages.MapPost("/sign-out", Leave).NeedsNoToken();
    }

    /// <summary>Where somebody who is not signed in is sent, to come back afterwards.</summary>
    public static string AddressFor(HttpRequest request) => HttpMethods.IsGet(request.Method)
        ? $"{Path}?next={Uri.EscapeDataString(request.Path + request.QueryString)}"
        : Path;

    private static Task Show(string? next, HttpContext http, HtmlPages pages) => pages.Write<SignInPage>(
        http, StatusCodes.Status200OK, new() { [nameof(SignInPage.Next)] = Local(next) });

    private static async Task Enter(
        HttpContext http, HtmlPages pages, TokenTable tokens, Sessions sessions, FailedTokens failures,
        CancellationToken cancel)
    {
        var form = http.Request.HasFormContentType ? await http.Request.ReadFormAsync(cancel) : FormCollection.Empty;
        var (token, next) = (form["token"].ToString().Trim(), Local(form["next"].ToString()));

        // Nobody may sign somebody else's browser in: browsers say where a form comes from (Fetch Metadata).
        if (IsFromElsewhere(http.Request))
        {
            await Refuse(403, "The form was sent from another site. Type the token in here.");
            return;
        }

        var known = token.Length is > 0 and <= 200 ? await tokens.Find(Secrets.IdOf(token), cancel) : null;

        if (known is not null && known.Is(token))
        {
            sessions.Open(http, known.Id);
            http.Response.StatusCode = StatusCodes.Status303SeeOther;
            http.Response.Headers.Location = next;
        }
        else if (failures.Count(http.Connection.RemoteIpAddress) is { } wait)
        {
            http.Response.Headers.RetryAfter = wait.ToString(CultureInfo.InvariantCulture);
            await Refuse(429, $"Too many wrong tokens from this address; try again in {wait} seconds.");
        }
        else
        {
            await Refuse(422, token.Length == 0 ? NoToken : WrongToken);
        }

        Task Refuse(int status, string fault) => pages.Write<SignInPage>(http, status, new()
        {
            [nameof(SignInPage.Next)] = next,
            [nameof(SignInPage.Fault)] = fault,
        });
    }

    private static void Leave(HttpContext http)
    {
        if (!IsFromElsewhere(http.Request))
        {
            Sessions.Close(http);
        }

        http.Response.StatusCode = StatusCodes.Status303SeeOther;
        http.Response.Headers.Location = Path;
    }

    private static bool IsFromElsewhere(HttpRequest request)
    {
        var origin = request.Headers.Origin.ToString();

        // Older browsers and scripts do not say; the former name at least the page's origin.
        return request.Headers["Sec-Fetch-Site"].ToString() switch
        {
            "" => origin.Length > 0
                && !origin.Equals($"{request.Scheme}://{request.Host}", StringComparison.OrdinalIgnoreCase),
            var site => site is not ("same-origin" or "none"),
        };
    }

    /// <summary>A path of this service: nobody is led elsewhere.</summary>
    private static string Local(string? next) =>
        next is ['/', not ('/' or '\\'), ..] && next.Length < 500 && !next.Any(char.IsControl) ? next : UsualNext;
}
