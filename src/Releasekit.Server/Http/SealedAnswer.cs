using System.Security.Cryptography;
using System.Text;

namespace Releasekit.Server.Http;

/// <summary>
/// Seals a kept answer with a key that only the caller's token gives: an answer
/// may hold a secret that is shown once, and the database keeps no secret that it could give away.
/// </summary>
internal static class SealedAnswer
{
    private const int NonceBytes = 12;
    private const int TagBytes = 16;

    public static byte[] Seal(byte[] body, string secret, string key)
    {
        var answer = new byte[NonceBytes + TagBytes + body.Length];
        var (nonce, tag, text) = Parts(answer);
        RandomNumberGenerator.Fill(nonce.Span);
        using var cipher = new AesGcm(KeyOf(secret, key), TagBytes);
        cipher.Encrypt(nonce.Span, body, text.Span, tag.Span);

        return answer;
    }

    /// <exception cref="AuthenticationTagMismatchException">It was sealed for another token or key.</exception>
    public static byte[] Open(byte[] answer, string secret, string key)
    {
        var (nonce, tag, text) = Parts(answer);
        var body = new byte[text.Length];
        using var cipher = new AesGcm(KeyOf(secret, key), TagBytes);
        cipher.Decrypt(nonce.Span, text.Span, tag.Span, body);

        return body;
    }

    private static (Memory<byte> Nonce, Memory<byte> Tag, Memory<byte> Text) Parts(byte[] answer) => (
        answer.AsMemory(0, NonceBytes), answer.AsMemory(NonceBytes, TagBytes), answer.AsMemory(NonceBytes + TagBytes));

    private static byte[] KeyOf(string secret, string key) => HKDF.DeriveKey(
        HashAlgorithmName.SHA256, Encoding.UTF8.GetBytes(secret), outputLength: 32,
        info: Encoding.UTF8.GetBytes($"idempotency {key}"));
}
