using System.Net;
using Releasekit.Client;

namespace Releasekit.Server.Tests.Pages;

/// <summary>A token opens a session in a browser, and nothing else does.</summary>
public class SignInTests(Service service)
{
    [Fact]
    public async Task With_a_token_in_hand_the_month_is_one_step_away()
    {
        var publisher = await service.NewPublisher();
        using var visitor = new Visitor(service.Address);

        using var astray = await visitor.Get("/month");
        using var entered = await visitor.Send("/sign-in", ("token", $" {publisher.Token}\n"), ("next", "/month"));

        Assert.Equal("/sign-in?next=%2Fmonth", astray.Headers.Location!.ToString());
        Assert.Equal("/month", entered.Headers.Location!.ToString());
        Assert.Contains("Nothing is promised here yet.", await visitor.Open("/month"), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_cookie_is_out_of_reach_of_scripts_and_other_sites_and_is_not_the_token()
    {
        var publisher = await service.NewPublisher();
        using var visitor = new Visitor(service.Address);

        using var entered = await visitor.Send("/sign-in", ("token", publisher.Token));
        var cookie = Assert.Single(entered.Headers.GetValues("Set-Cookie"));

        Assert.Contains("httponly", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", cookie, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain(publisher.Token, cookie, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("", "A token is needed")]
    [InlineData("wrong", "This is no token of this service")]
    public async Task A_wrong_token_is_told_what_would_be_right(string token, string told)
    {
        using var visitor = new Visitor(service.Address);

        using var refused = await visitor.Send("/sign-in", ("token", token), ("next", "/week"));
        var page = await refused.Content.ReadAsStringAsync(TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.UnprocessableEntity, refused.StatusCode);
        Assert.Contains(told, page, StringComparison.Ordinal);
        Assert.Contains("value=\"/week\"", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("https://elsewhere.example/")]
    [InlineData("//elsewhere.example/")]
    [InlineData("/\\elsewhere.example/")]
    public async Task Signing_in_leads_nowhere_else(string next)
    {
        var publisher = await service.NewPublisher();
        using var visitor = new Visitor(service.Address);

        using var entered = await visitor.Send("/sign-in", ("token", publisher.Token), ("next", next));

        Assert.Equal("/month", entered.Headers.Location!.ToString());
    }

    [Fact]
    public async Task Nobody_is_signed_in_by_another_site()
    {
        var publisher = await service.NewPublisher();
        using var http = new HttpClient { BaseAddress = new Uri(service.Address) };
        using var request = new HttpRequestMessage(HttpMethod.Post, "/sign-in")
        {
            Content = new FormUrlEncodedContent([new("token", publisher.Token)]),
            Headers = { { "Sec-Fetch-Site", "cross-site" } },
        };

        using var answer = await http.SendAsync(request, TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
        Assert.False(answer.Headers.Contains("Set-Cookie"));
    }

    [Fact]
    public async Task A_revoked_token_ends_its_sessions_at_once()
    {
        var publisher = await service.NewPublisher();
        var other = await publisher.Client.Tokens.Create(new("browser", ["read", "write"])).Value();
        using var visitor = new Visitor(service.Address);
        using var entered = await visitor.Send("/sign-in", ("token", other.Token));
        await visitor.Open("/month");

        await publisher.Client.Tokens.Revoke(other.Id);
        using var astray = await visitor.Get("/month");

        Assert.Equal(HttpStatusCode.Redirect, astray.StatusCode);
        Assert.StartsWith("/sign-in", astray.Headers.Location!.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_session_is_good_for_pages_only_never_for_the_contract()
    {
        using var visitor = await Visitor.SignedIn(service, await service.NewPublisher());

        using var data = await visitor.Get("/v1/series");

        Assert.Equal(HttpStatusCode.Unauthorized, data.StatusCode);
        Assert.Equal("application/problem+json", data.Content.Headers.ContentType!.MediaType);
    }

    [Fact]
    public async Task Signing_out_ends_it_here()
    {
        using var visitor = await Visitor.SignedIn(service, await service.NewPublisher());

        using var left = await visitor.Send("/sign-out");
        using var astray = await visitor.Get("/month");

        Assert.Equal(HttpStatusCode.SeeOther, left.StatusCode);
        Assert.Equal(HttpStatusCode.Redirect, astray.StatusCode);
    }
}
