using PuppeteerSharp;
using PuppeteerSharp.Media;
using Releasekit.Server.Tests.Pages;

[assembly: AssemblyFixture(typeof(Chromium))]

namespace Releasekit.Server.Tests.Pages;

/// <summary>
/// The system's Chromium, started when the first test asks for it. Without one the tests that need it say so.
/// </summary>
public sealed class Chromium : IAsyncLifetime
{
    private const string Missing = "No Chromium on this machine; ops/test installs it where it may.";
    private static readonly string[] Places = ["/usr/bin/chromium", "/usr/bin/chromium-browser"];

    private readonly SemaphoreSlim _gate = new(1, 1);
    private IBrowser? _browser;

    /// <summary>A page of a browser that has seen nothing yet.</summary>
    /// <param name="runsScripts">Off as somebody may have it; on for those who examine the page.</param>
    internal async Task<IPage> NewPage(int width, bool runsScripts = false)
    {
        var context = await (await Start()).CreateBrowserContextAsync();
        var page = await context.NewPageAsync();
        await page.SetViewportAsync(new() { Width = width, Height = 900 });
        await page.SetJavaScriptEnabledAsync(runsScripts);

        return page;
    }

    /// <summary>The same, signed in with a token by the form for it.</summary>
    internal Task<IPage> SignedIn(Service service, string token, int width = 1280, bool runsScripts = false) =>
        SignedIn(service.Address, token, width, runsScripts);

    internal async Task<IPage> SignedIn(string address, string token, int width, bool runsScripts = false)
    {
        var page = await NewPage(width, runsScripts);
        await page.GoToAsync($"{address}/sign-in");
        await page.TypeAsync("#token", token);
        await page.ClickAndWait("main button");

        return page;
    }

    /// <summary>How many sheets of A4 a page takes when it is printed.</summary>
    internal static async Task<int> PrintedSheets(IPage page)
    {
        var pdf = await page.PdfDataAsync(new() { Format = PaperFormat.A4, PreferCSSPageSize = true });
        var text = System.Text.Encoding.Latin1.GetString(pdf);

        return System.Text.RegularExpressions.Regex.Count(text, @"/Type\s*/Page\b(?!s)");
    }

    public ValueTask InitializeAsync() => ValueTask.CompletedTask;

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null)
        {
            await _browser.DisposeAsync();
        }

        _gate.Dispose();
    }

    private async Task<IBrowser> Start()
    {
        var place = Array.Find(Places, File.Exists);
        Assert.SkipWhen(place is null, Missing);
        await _gate.WaitAsync();

        try
        {
            return _browser ??= await Puppeteer.LaunchAsync(new()
            {
                ExecutablePath = place!,
                Args = ["--no-sandbox", "--disable-gpu", "--disable-background-networking", "--no-first-run"],
            });
        }
        finally
        {
            _gate.Release();
        }
    }
}

internal static class Clicking
{
    /// <summary>Clicks and waits for the page that comes of it.</summary>
    public static async Task ClickAndWait(this IPage page, string selector)
    {
        var came = page.WaitForNavigationAsync();
        await page.ClickAsync(selector);
        await came;
    }

    /// <summary>What the reader sees of an element.</summary>
    public static async Task<string> Seen(this IPage page, string selector) =>
        await (await page.QuerySelectorAsync(selector)).EvaluateFunctionAsync<string>("e => e.innerText");
}
