using System.Net;
using System.Text.RegularExpressions;

namespace Releasekit.Server.Tests.Pages;

/// <summary>Somebody with a browser that keeps cookies, follows no redirect by itself and runs no script.</summary>
internal sealed partial class Visitor(string address) : IDisposable
{
    private readonly HttpClient _http = new(new SocketsHttpHandler
    {
        AllowAutoRedirect = false,
        CookieContainer = new CookieContainer(),
        UseProxy = false,
    })
    { BaseAddress = new Uri(address) };

    private string _page = string.Empty;

    /// <summary>A visitor who signed in with the publisher's token.</summary>
    public static async Task<Visitor> SignedIn(Service service, TestPublisher publisher)
    {
        var visitor = new Visitor(service.Address);
        using var answer = await visitor.Send("/sign-in", ("token", publisher.Token));
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        return visitor;
    }

    /// <summary>Opens a page and keeps it before the eyes.</summary>
    public async Task<string> Open(string path, HttpStatusCode expected = HttpStatusCode.OK)
    {
        using var answer = await Get(path);
        Assert.Equal(expected, answer.StatusCode);
        return _page = await answer.Content.ReadAsStringAsync();
    }

    public Task<HttpResponseMessage> Get(string path)
    {
        var request = new HttpRequestMessage(HttpMethod.Get, path);
        request.Headers.Accept.ParseAdd("text/html,application/xhtml+xml,*/*;q=0.8");
        return _http.SendAsync(request);
    }

    /// <summary>Sends a form of the page before the eyes, with its hidden fields.</summary>
    /// <returns>Where it leads, or the page that says what is wrong.</returns>
    public async Task<(HttpStatusCode Status, string Text)> Submit(
        string action, params (string Name, string Value)[] fields)
    {
        var hidden = Hidden().Matches(_page)
            .Select(field => (field.Groups["name"].Value, WebUtility.HtmlDecode(field.Groups["value"].Value)))
            .Where(field => field.Item1 is "seal" or "sheet")
            .DistinctBy(field => field.Item1);
        using var answer = await Send(action, [.. hidden, .. fields]);
        var text = await answer.Content.ReadAsStringAsync();

        if (answer.Headers.Location is { } next)
        {
            await Open(next.ToString());
            return (answer.StatusCode, next.ToString());
        }

        _page = text;
        return (answer.StatusCode, text);
    }

    /// <summary>Sends a form as it is given.</summary>
    public Task<HttpResponseMessage> Send(string action, params (string Name, string Value)[] fields) =>
        _http.PostAsync(
            new Uri(action, UriKind.Relative),
            new FormUrlEncodedContent(fields.Select(field => KeyValuePair.Create(field.Name, field.Value))));

    public void Dispose() => _http.Dispose();

    [GeneratedRegex("""<input type="hidden" name="(?<name>\w+)" value="(?<value>[^"]*)">?""")]
    private static partial Regex Hidden();
}
