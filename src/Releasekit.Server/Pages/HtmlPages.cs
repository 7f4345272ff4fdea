using Microsoft.AspNetCore.Antiforgery;
using Microsoft.AspNetCore.Components;
using Microsoft.AspNetCore.Components.Web;
using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Pages;

/// <summary>
/// Writes pages: HTML made here, with headers that allow nothing from elsewhere and no code at all (OWASP Content
/// Security Policy Cheat Sheet).
/// </summary>
internal sealed class HtmlPages(IServiceProvider services, ILoggerFactory logs, IAntiforgery forms)
{
    private const string Policy =
        "default-src 'none'; style-src 'self'; img-src 'self'; form-action 'self'; base-uri 'none'; "
        + "frame-ancestors 'none'";

    /// <summary>Writes the page that <typeparamref name="TPage"/> makes of its parameters.</summary>
    public async Task Write<TPage>(HttpContext http, int status, Dictionary<string, object?> parameters)
        where TPage : IComponent
    {
        await using var renderer = new HtmlRenderer(services, logs);
        var html = await renderer.Dispatcher.InvokeAsync(async () =>
        {
            var page = await renderer.RenderComponentAsync<TPage>(ParameterView.FromDictionary(parameters));
            return page.ToHtmlString();
        });

        http.Response.StatusCode = status;
        http.Response.ContentType = "text/html; charset=utf-8";
        http.Response.Headers.ContentSecurityPolicy = Policy;
        http.Response.Headers["Cross-Origin-Opener-Policy"] = "same-origin";
        http.Response.Headers["Cross-Origin-Resource-Policy"] = "same-origin";
        http.Response.Headers["Permissions-Policy"] = "geolocation=(), camera=(), microphone=()";
        http.Response.Headers.Vary = "Accept, Cookie";

        if (!HttpMethods.IsHead(http.Request.Method))
        {
            await http.Response.WriteAsync($"<!doctype html>\n{html}\n", http.RequestAborted);
        }
    }

    /// <summary>Shows a problem as a page.</summary>
    public Task WriteProblem(HttpContext http, Problem problem) => Write<ProblemPage>(
        http, problem.Status, new()
        {
            [nameof(ProblemPage.Title)] = problem.Title,
            [nameof(ProblemPage.Detail)] = problem.Detail,
        });

    /// <summary>What a page needs to know of who looks at it.</summary>
    /// <param name="sheet">The path of the sheet, where its forms lead back to.</param>
    public PageScene SceneOf(HttpContext http, Caller caller, string sheet, FilledForm? form = null)
    {
        var isSession = http.User.Identity is { IsAuthenticated: true };
        var seal = isSession ? forms.GetAndStoreTokens(http) : null;

        return new(
            sheet,
            isSession && caller.Scopes.Contains(Scope.Write)
                ? new FormSeal(seal!.FormFieldName, seal.RequestToken!) : null,
            isSession,
            form,
            http.Request.Query["ticked"].ToString() is { Length: > 0 and < 200 } ticked ? ticked : null);
    }
}
