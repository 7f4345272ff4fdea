using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.DataProtection.KeyManagement;
using Microsoft.Extensions.Options;
using Releasekit.Server.Access;
using Releasekit.Server.Pages.Forms;
using Releasekit.Server.Sheets;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages;

/// <summary>The pages for the one who publishes: sheets, releases, the forms on them, and the way in.</summary>
internal static class PageRoutes
{
    public static IServiceCollection AddPages(this IServiceCollection services)
    {
        services.AddRazorComponents();
        services.AddDataProtection().SetApplicationName("Releasekit");
        services.AddSingleton<IConfigureOptions<KeyManagementOptions>>(provider =>
            new ConfigureOptions<KeyManagementOptions>(
                options => options.XmlRepository = provider.GetRequiredService<SessionKeys>()));
        services.AddAntiforgery(options =>
        {
            options.Cookie.Name = "releasekit-form";
            options.Cookie.SameSite = SameSiteMode.Lax;
            options.Cookie.HttpOnly = true;
            options.FormFieldName = "seal";
            options.SuppressXFrameOptionsHeader = true;
        });
        services.AddSingleton<Sessions>();
        services.AddSingleton<HtmlPages>();
        services.AddSingleton<SheetPages>();
        services.AddSingleton<SheetsOnRequest>();

        return services;
    }

    public static void MapPages(this IEndpointRouteBuilder routes)
    {
        var pages = routes.MapGroup(string.Empty).ForPeople().ExcludeFromDescription();

        SignIn.Map(pages);
        PageAssets.Map(pages);

        var sheets = pages.MapGroup(string.Empty).Needs(Scope.Read);
        Show(sheets, "/month", _ => new SheetAddress.Month(null));
        Show(sheets, "/week", _ => new SheetAddress.Week(null, false));
        Show(sheets, "/week/list", _ => new SheetAddress.Week(null, true));
        Show(sheets, "/year", _ => new SheetAddress.Year(null));
        sheets.MapGet("/month/{month}", (
            MonthParameter month, HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, new SheetAddress.Month(month.First)));
        sheets.MapGet("/week/{week}", (
            WeekParameter week, HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, new SheetAddress.Week(week.Monday, false)));
        sheets.MapGet("/week/{week}/list", (
            WeekParameter week, HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, new SheetAddress.Week(week.Monday, true)));
        sheets.MapGet("/year/{year}", (
            YearParameter year, HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, new SheetAddress.Year(year.Year)));
        sheets.MapGet("/releases/{id:guid}", (
            Guid id, HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, new SheetAddress.Release(id)));

        pages.MapGroup("/forms").Needs(Scope.Write).MapForms();
    }

    private static void Show(IEndpointRouteBuilder sheets, string path, Func<HttpContext, SheetAddress> address) =>
        sheets.MapGet(path, (HttpContext http, Caller caller, SheetPages shown) =>
            shown.Show(http, caller, address(http)));
}
