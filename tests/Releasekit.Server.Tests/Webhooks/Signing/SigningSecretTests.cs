using Releasekit.Server.Webhooks.Signing;

namespace Releasekit.Server.Tests.Webhooks.Signing;

/// <summary>
/// Secrets: 24 to 64 random bytes in base64 behind whsec_ (Standard Webhooks 1.0.0, "Signature scheme").
/// </summary>
public class SigningSecretTests
{
    private static readonly Instant Now = Instant.FromUtc(2026, 3, 5, 7, 0);

    [Fact]
    public void A_new_secret_has_32_random_bytes()
    {
        var secrets = Enumerable.Range(0, 1_000).Select(_ => SigningSecret.New().Reveal()).ToArray();

        Assert.All(secrets, secret => Assert.Matches("^whsec_[A-Za-z0-9+/]{43}=$", secret));
        Assert.Equal(1_000, secrets.Distinct().Count());
    }

    [Theory]
    [InlineData(24)]
    [InlineData(32)]
    [InlineData(33)]
    [InlineData(64)]
    public void A_secret_made_elsewhere_is_taken_as_it_is(int bytes)
    {
        var text = "whsec_" + Convert.ToBase64String([.. Enumerable.Range(1, bytes).Select(i => (byte)i)]);

        Assert.Equal(text, SigningSecret.TryParse(text, out var refusal)!.Reveal());
        Assert.Null(refusal);
    }

    public static TheoryData<string?> Faulty => [.. new[]
    {
        null, "", "whsec_", Of(new byte[23]), Of(new byte[65]),
        "whpk_" + Convert.ToBase64String(new byte[32]), Convert.ToBase64String(new byte[32]),
        Of(new byte[32]).TrimEnd('='), Of(Enumerable.Repeat((byte)0xFF, 33)).Replace('/', '_'),
        Of(new byte[32]) + "\n", " " + Of(new byte[32]), Of(new byte[32]).Insert(10, " "),
        // The last character carries two bits that mean nothing: another spelling of the same bytes.
        Of(new byte[32])[..^2] + "B=",
        "whsec_" + new string('é', 32), "WHSEC_" + Convert.ToBase64String(new byte[32]),
    }];

    [Theory]
    [MemberData(nameof(Faulty))]
    public void What_libraries_disagree_on_is_refused_and_not_repeated(string? text)
    {
        Assert.Null(SigningSecret.TryParse(text, out var refusal));

        var fault = Assert.Single(refusal!.Faults);
        Assert.Equal("/secret", fault.Member);
        Assert.DoesNotContain(text is { Length: > 10 } ? text : "?", fault.Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void A_secret_is_not_written_by_accident()
    {
        var secret = SigningSecret.New();

        Assert.DoesNotContain(secret.Reveal()[6..], $"{secret} {new SigningKeys(secret, secret)}");
    }

    [Theory]
    [InlineData(-1)]
    [InlineData((7 * 24 * 60) + 1)]
    public void The_previous_secret_signs_for_7_days_at_most(int minutes)
    {
        var keys = new SigningKeys(SigningSecret.New());

        Assert.Null(keys.Rotate(SigningSecret.New(), Duration.FromMinutes(minutes), Now, out var refusal));
        Assert.Equal("/overlap", Assert.Single(refusal!.Faults).Member);
    }

    [Fact]
    public void Without_overlap_the_previous_secret_is_forgotten_and_the_same_one_is_no_rotation()
    {
        var (first, second, third) = (SigningSecret.New(), SigningSecret.New(), SigningSecret.New());
        var keys = new SigningKeys(first);

        Assert.Equal(new SigningKeys(second), keys.Rotate(second, Duration.Zero, Now, out _));
        Assert.Null(keys.Rotate(first, Duration.Zero, Now, out var refusal));
        Assert.Equal("/secret", Assert.Single(refusal!.Faults).Member);

        var week = Duration.FromDays(7);
        var twice = keys.Rotate(second, week, Now, out _)!.Rotate(third, week, Now, out _)!;
        Assert.Equal([third, second, third], twice.At(Now + Duration.FromDays(6)));
        Assert.Equal([third], twice.At(Now + Duration.FromDays(7)));
    }

    private static string Of(IEnumerable<byte> bytes) => "whsec_" + Convert.ToBase64String([.. bytes]);
}
