using System.Diagnostics;
using System.Text.Json;
using Releasekit.Server.Webhooks.Signing;

namespace Releasekit.Server.Tests.Webhooks.Signing;

/// <summary>
/// The reference library of Standard Webhooks for JavaScript (npm standardwebhooks), run by node through
/// verify_webhooks.mjs. ops/test installs it where there is an npm.
/// </summary>
internal static class ReferenceReceiver
{
    private static readonly string Script = Path.Combine(
        AppContext.BaseDirectory, "Webhooks", "Signing", "verify_webhooks.mjs");

    /// <summary>For each message whether the library accepts it; skips the test where it cannot be had.</summary>
    public static async Task<bool[]> Accepts(
        params (SigningSecret Secret, SignedHeaders Headers, byte[] Body)[] messages)
    {
        Assert.SkipUnless(IsInstalled(), "npm standardwebhooks is not installed; ops/test does it where npm is.");
        Assert.SkipUnless(HasNode(), "node is not installed.");

        using var process = Process.Start(new ProcessStartInfo("node", [Script])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        })!;
        await process.StandardInput.WriteAsync(JsonSerializer.Serialize(messages.Select(message => new
        {
            secret = message.Secret.Reveal(),
            body = Convert.ToBase64String(message.Body),
            headers = new Dictionary<string, string>
            {
                [SignedHeaders.IdName] = message.Headers.Id,
                [SignedHeaders.TimestampName] = message.Headers.Timestamp,
                [SignedHeaders.SignatureName] = message.Headers.Signature,
            },
        })));
        process.StandardInput.Close();
        var answer = await process.StandardOutput.ReadToEndAsync();
        await process.WaitForExitAsync();
        Assert.Equal(0, process.ExitCode);

        return JsonSerializer.Deserialize<bool[]>(answer)!;
    }

    /// <summary>As node looks for it: in the folders above the script.</summary>
    private static bool IsInstalled()
    {
        for (var folder = new DirectoryInfo(Path.GetDirectoryName(Script)!); folder is not null; folder = folder.Parent)
        {
            if (Directory.Exists(Path.Combine(folder.FullName, "node_modules", "standardwebhooks")))
            {
                return true;
            }
        }

        return false;
    }

    private static bool HasNode() => (Environment.GetEnvironmentVariable("PATH") ?? "").Split(Path.PathSeparator)
        .Any(folder => File.Exists(Path.Combine(folder, "node")));
}
