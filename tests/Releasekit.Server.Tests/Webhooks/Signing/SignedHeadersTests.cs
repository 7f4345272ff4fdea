using System.Text;
using CsCheck;
using Microsoft.AspNetCore.Http;
using Releasekit.Server.Webhooks.Signing;
using StandardWebhooks;
using StandardWebhooks.Diagnostics;

namespace Releasekit.Server.Tests.Webhooks.Signing;

/// <summary>
/// Signatures, against vectors and two libraries that are not ours. V1: the tests of the reference libraries
/// (libraries/csharp, javascript, python, go, php, ruby and java of the Standard Webhooks project); V2: its
/// libraries/rust/src/lib.rs. Libraries: NuGet StandardWebhooks 1.1.2, npm standardwebhooks 1.1.1.
/// </summary>
public class SignedHeadersTests
{
    private const string SecretOfV1 = "whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw";
    private const string IdOfV1 = "msg_p5jXN8AQM9LWM0D4loKWxJek";
    private const string BodyOfV1 = """{"test": 2432232314}""";
    private const string SignatureOfV1 = "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=";
    private const string OtherSignature = "v1,Ceo5qEr07ixe2NLpvHk3FH9bwy/WavXrAFQ/9tdO6mc=";
    private const long SecondsOfV1 = 1614265330;

    private static readonly Instant Now = Instant.FromDateTimeOffset(TimeProvider.System.GetUtcNow());

    [Theory]
    [InlineData(SecretOfV1, IdOfV1, SecondsOfV1, BodyOfV1, SignatureOfV1)]
    [InlineData(
        "whsec_C2FVsBQIhrscChlQIMV+b5sSYspob7oD", "msg_27UH4WbU6Z5A5EzD8u03UvzRbpk", 1649367553,
        """{"email":"test@example.com","username":"test_user"}""", "v1,tZ1I4/hDygAJgO5TYxiSd6Sd0kDW6hPenDe+bTa3Kkw=")]
    public void The_published_vectors_come_out(string secret, string id, long seconds, string body, string expected)
    {
        var headers = SignedHeaders.Of(
            id, Instant.FromUnixTimeSeconds(seconds), Encoding.UTF8.GetBytes(body), KeysOf(secret));

        Assert.Equal(new SignedHeaders(id, $"{seconds}", expected), headers);
    }

    [Theory]
    [InlineData("\r\n")]
    [InlineData("{\"title\":\"Eelgrass\u2028🦀\"}\r\n")]
    [InlineData("")]
    public void The_bytes_sent_are_the_bytes_signed(string text)
    {
        var body = Encoding.UTF8.GetBytes(text + new string('x', text.Length == 2 ? 1 << 20 : 0));
        var secret = SigningSecret.New();

        var headers = SignedHeaders.Of("msg_a", Now, body, new(secret));

        Assert.True(Accepts(secret, headers, body));
        Assert.False(Accepts(secret, headers, [.. body, (byte)' ']));
        Assert.False(Accepts(secret, headers with { Id = "msg_b" }, body));
        Assert.False(Accepts(secret, headers with { Timestamp = $"{Now.ToUnixTimeSeconds() + 1}" }, body));
        Assert.False(Accepts(SigningSecret.New(), headers, body));
        Assert.Matches("^[0-9]{10}$", headers.Timestamp);
    }

    [Theory]
    [InlineData("msg_a.1614265330")]
    [InlineData("msg_a b")]
    [InlineData("msg_")]
    [InlineData("a")]
    [InlineData("msg_a\n")]
    public void An_id_that_could_pass_for_another_is_never_signed(string id) =>
        Assert.Throws<ArgumentException>(() => SignedHeaders.Of(id, Now, "{}"u8, new(SigningSecret.New())));

    [Fact]
    public void Another_library_signs_the_same_and_accepts_ours() => Gen.Select(
        Gen.Byte.Array[24, 64], Gen.String[Gen.Char["aZ09\n\r\u2028é😀{}\".,"], 0, 200]).Sample((key, text) =>
    {
        var secret = "whsec_" + Convert.ToBase64String(key);
        var body = Encoding.UTF8.GetBytes(text);

        var headers = SignedHeaders.Of("msg_a", Now, body, KeysOf(secret));

        Assert.Equal(
            new StandardWebhook(secret).Sign("msg_a", Now.ToDateTimeOffset(), Encoding.UTF8.GetString(body)),
            headers.Signature);
        Assert.True(LibraryAccepts(SigningSecret.TryParse(secret, out _)!, headers, body));
    });

    [Fact]
    public void During_a_rotation_every_receiver_finds_its_signature()
    {
        var body = Encoding.UTF8.GetBytes(BodyOfV1);
        var (old, next) = (SigningSecret.New(), SigningSecret.New());
        var keys = new SigningKeys(old).Rotate(next, SigningKeys.UsualOverlap, Now, out _)!;

        var during = SignedHeaders.Of("msg_a", Now, body, keys);
        var after = SignedHeaders.Of("msg_a", Now + Duration.FromHours(24), body, keys);

        var signatures = during.Signature.Split(' ');
        Assert.Equal(3, signatures.Length);
        Assert.Equal(signatures[0], signatures[2]);
        Assert.NotEqual(signatures[0], signatures[1]);
        Assert.All([old, next], secret => Assert.True(Accepts(secret, during, body)));
        Assert.All([old, next], secret => Assert.True(LibraryAccepts(secret, during, body)));
        Assert.False(LibraryAccepts(SigningSecret.New(), during, body));
        Assert.DoesNotContain(' ', after.Signature);
        Assert.False(Receiver.Accepts(
            old.Reveal(), after.Id, after.Timestamp, after.Signature, body, Now + Duration.FromHours(24)));

        // Why the new one stands twice: the library does not look at the last one.
        Assert.False(LibraryAccepts(old, during with { Signature = $"{signatures[0]} {signatures[1]}" }, body));
    }

    [Theory]
    [InlineData(IdOfV1, "1614265330", $"{OtherSignature} v2,Ceo5qEr07ixe2NLpvHk3FH9bwy/WavXrAFQ/9tdO6mc= "
        + $"{SignatureOfV1} {OtherSignature}", 0, true)]
    [InlineData(IdOfV1, "1614265330", SignatureOfV1, 300, true)]
    [InlineData(IdOfV1, "1614265330", SignatureOfV1, -300, true)]
    [InlineData(IdOfV1, "1614265330", SignatureOfV1, 301, false)]
    [InlineData(IdOfV1, "1614265330", SignatureOfV1, -301, false)]
    [InlineData(IdOfV1, "1614265330", "v1,", 0, false)]
    [InlineData(IdOfV1, "1614265330", "v1,g0hM9", 0, false)]
    [InlineData(IdOfV1, "1614265330", "v2,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=", 0, false)]
    [InlineData(IdOfV1, "hello", SignatureOfV1, 0, false)]
    [InlineData(IdOfV1, "1614265330", null, 0, false)]
    [InlineData(IdOfV1, null, SignatureOfV1, 0, false)]
    [InlineData(null, "1614265330", SignatureOfV1, 0, false)]
    public void The_receiver_of_these_tests_accepts_and_refuses_as_the_reference_tests_do(
        string? id, string? timestamp, string? signature, int clockOff, bool expected) =>
        Assert.Equal(expected, Receiver.Accepts(
            SecretOfV1, id, timestamp, signature, Encoding.UTF8.GetBytes(BodyOfV1),
            Instant.FromUnixTimeSeconds(SecondsOfV1 + clockOff)));

    [Fact]
    public async Task The_reference_library_in_JavaScript_accepts_ours()
    {
        var body = Encoding.UTF8.GetBytes("{\"title\":\"Eelgrass\u2028🦀\"}\r\n");
        var (old, next) = (SigningSecret.New(), SigningSecret.New());
        var keys = new SigningKeys(old).Rotate(next, SigningKeys.UsualOverlap, Now, out _)!;
        var (alone, during) = (
            SignedHeaders.Of("msg_a", Now, body, new(next)), SignedHeaders.Of("msg_a", Now, body, keys));

        var answers = await ReferenceReceiver.Accepts(
            (next, alone, body), (old, during, body), (next, during, body), (SigningSecret.New(), during, body),
            (next, alone with { Id = "msg_b" }, body));

        Assert.Equal([true, true, true, false, false], answers);
    }

    private static bool Accepts(SigningSecret secret, SignedHeaders headers, byte[] body) =>
        Receiver.Accepts(secret.Reveal(), headers.Id, headers.Timestamp, headers.Signature, body, Now);

    private static bool LibraryAccepts(SigningSecret secret, SignedHeaders headers, byte[] body)
    {
        try
        {
            new StandardWebhook(secret.Reveal()).Verify(
                Encoding.UTF8.GetString(body),
                new HeaderDictionary
                {
                    [SignedHeaders.IdName] = headers.Id,
                    [SignedHeaders.TimestampName] = headers.Timestamp,
                    [SignedHeaders.SignatureName] = headers.Signature,
                });
            return true;
        }
        catch (WebhookVerificationException)
        {
            return false;
        }
    }

    private static SigningKeys KeysOf(string secret) => new(SigningSecret.TryParse(secret, out _)!);
}
