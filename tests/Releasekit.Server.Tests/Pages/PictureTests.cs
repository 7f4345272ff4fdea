namespace Releasekit.Server.Tests.Pages;

/// <summary>
/// Makes the pictures of the README in the folder that <c>RELEASEKIT_PICTURES</c> names, only when asked to
/// (ops/pictures/make).
/// </summary>
public class PictureTests(Service service, Chromium chromium)
{
    private const string Folder = "RELEASEKIT_PICTURES";

    [Fact(Explicit = true)]
    public async Task The_pictures_of_the_README_are_made_where_they_are_wanted()
    {
        var folder = Environment.GetEnvironmentVariable(Folder);
        Assert.True(folder is not null, $"{Folder} is not set; ops/pictures/make does that.");
        await using var data = TempFolder.Make();
        using var demo = await KillableService.Start(
            data.Path, await service.Postgres.CreateDatabaseAsync(), null,
            ("Clock__Start", "2026-11-25T10:00:00Z"), (KillableService.Demo, "true"));

        foreach (var (name, path, width) in new[]
        {
            ("month", "/month", 1180), ("month-phone", "/month", 390), ("week", "/week", 1180), ("year", "/year", 1180),
        })
        {
            var page = await chromium.SignedIn(demo.Address, demo.Token, width);
            await page.GoToAsync($"{demo.Address}{path}");
            await page.ScreenshotAsync(Path.Combine(folder!, $"{name}.png"), new() { FullPage = true });
        }
    }
}
