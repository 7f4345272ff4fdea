using System.Text.Json;
using Releasekit.Server.Webhooks.Sending;

namespace Releasekit.Server.Tests.Webhooks.Sending;

/// <summary>
/// Addresses that could make the service call itself or its neighbours, and some that are fine. Cases:
/// Checks/hostile.json (our own collection; the OWASP cheat sheet on server-side request forgery behind it).
/// </summary>
public class TargetUrlTests
{
    private static readonly Lazy<JsonElement[]> Known = new(() => [.. JsonDocument
        .Parse(File.ReadAllText(Path.Combine(AppContext.BaseDirectory, "Checks", "hostile.json")))
        .RootElement.GetProperty("cases").EnumerateArray()
        .Where(one => one.GetProperty("kind").GetString() == "url")]);

    public static TheoryData<string> Ids => [.. Known.Value.Select(one => one.GetProperty("id").GetString()!)];

    [Theory]
    [MemberData(nameof(Ids))]
    public async Task A_hostile_address_ends_in_its_class(string id)
    {
        var hostile = Known.Value.Single(one => one.GetProperty("id").GetString() == id);
        var text = hostile.GetProperty("input").GetString();
        var expected = hostile.GetProperty("expect").GetString();

        var target = TargetUrl.TryParse(text, allowsLoopback: false, out var refusal);

        if (expected == "4xx")
        {
            Assert.Null(target);
            Assert.Equal("/url", Assert.Single(refusal!.Faults).Member);
            return;
        }

        // Nothing is dialled here: the guard only says whether it would.
        Assert.Null(refusal);
        var behind = hostile.GetProperty("resolves_to").EnumerateArray()
            .Select(address => System.Net.IPAddress.Parse(address.GetString()!)).ToArray();
        var guard = new AddressGuard(allowsLoopback: false, () => [], (_, _) => Task.FromResult(behind));
        var look = guard.Resolve(target!.Address.IdnHost, target.Address.Port, CancellationToken.None);

        if (expected == "blocked")
        {
            await Assert.ThrowsAsync<AddressRefusedException>(() => look);
        }
        else
        {
            Assert.Equal("accepted", expected);
            Assert.Equal(behind, await look);
            Assert.Equal(text, $"{target}");
        }
    }

    [Theory]
    [InlineData("https://tools.example.com/hooks", "https://tools.example.com/hooks")]
    [InlineData("HTTPS://Tools.Example.COM", "https://tools.example.com/")]
    [InlineData("https://tools.example.com:8443/a%20b?key=1&x=%23", "https://tools.example.com:8443/a%20b?key=1&x=%23")]
    [InlineData("https://93.184.216.34/hooks", "https://93.184.216.34/hooks")]
    [InlineData("https://[2606:2800:220:1::1]/", "https://[2606:2800:220:1::1]/")]
    public void A_public_address_is_taken(string text, string expected) =>
        Assert.Equal(expected, $"{TargetUrl.TryParse(text, allowsLoopback: false, out _)}");

    [Theory]
    [InlineData("http://127.0.0.1:9000/hooks", true)]
    [InlineData("http://localhost:9000/hooks", true)]
    [InlineData("https://[::1]:9000/hooks", true)]
    [InlineData("http://[::ffff:127.0.0.1]:9000/hooks", true)]
    [InlineData("http://tools.example.com/hooks", false)]
    [InlineData("http://10.0.0.1:9000/hooks", false)]
    [InlineData("https://169.254.169.254/latest/meta-data/", false)]
    [InlineData("http://127.0.0.1:22/", false)]
    [InlineData("http://localhost.example.com:9000/", false)]
    public void Only_a_switch_allows_this_machine_and_it_allows_nothing_else(string text, bool expected)
    {
        Assert.Equal(expected, TargetUrl.TryParse(text, allowsLoopback: true, out _) is not null);
        Assert.Null(TargetUrl.TryParse(text, allowsLoopback: false, out _));
    }

    [Theory]
    [InlineData("https://büro.example.com/", "xn--")]
    [InlineData("http://tools.example.com/", "https")]
    [InlineData("https://tools.example.com:6379", "6379", true)]
    [InlineData("https://tools.example.com:6667", "6667")]
    [InlineData("", "needed")]
    [InlineData(null, "needed")]
    public void A_refusal_says_what_would_be_right(string? text, string expected, bool isTaken = false)
    {
        var target = TargetUrl.TryParse(text, allowsLoopback: false, out var refusal);

        Assert.Equal(isTaken, target is not null);
        Assert.Contains(expected, refusal?.Reason ?? $"{target}", StringComparison.Ordinal);
    }
}
