using Releasekit.Domain;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>
/// Where an endpoint's messages go: an address that passed every rule that its text can be held to. What the name
/// stands for is looked at when it is dialled (<see cref="AddressGuard"/>).
/// </summary>
internal sealed class TargetUrl
{
    private const int Longest = 2_048;
    private const string Secure = "https://";
    private const string Plain = "http://";

    private TargetUrl(Uri address) => Address = address;

    /// <summary>As it is dialled and kept.</summary>
    public Uri Address { get; }

    /// <summary>Reads an address; null with a refusal that says what would be right.</summary>
    /// <param name="allowsLoopback">Whether this machine itself may be meant, over http as well.</param>
    /// <param name="refusal">Member <c>/url</c>.</param>
    public static TargetUrl? TryParse(string? text, bool allowsLoopback, out Refusal? refusal)
    {
        Uri? address = null;
        var fault = FaultOfText(text) ?? (Uri.TryCreate(text, UriKind.Absolute, out address)
            ? FaultOfScheme(address, allowsLoopback) ?? TargetHosts.FaultOf(address, allowsLoopback)
                ?? TargetPorts.FaultOf(address, allowsLoopback)
            : "This is no address; a full one is accepted, such as https://tools.example.com/hooks.");
        refusal = fault is null ? null : WebhookRefusals.Of(new Fault("/url", fault));

        return fault is null ? new(address!) : null;
    }

    public override string ToString() => Address.AbsoluteUri;

    /// <summary>What parsers read in different ways is refused before one of them reads it.</summary>
    private static string? FaultOfText(string? text)
    {
        if (string.IsNullOrEmpty(text))
        {
            return "An address is needed, such as https://tools.example.com/hooks.";
        }

        if (text.Length > Longest)
        {
            return $"An address may have {Longest} characters at most; this one has {text.Length}.";
        }

        if (text.Any(c => c > '\x7F'))
        {
            return "Only plain letters, digits and signs: write an international name in its xn-- form, and encode "
                + "other characters with %.";
        }

        if (text.Any(c => c is <= ' ' or '\\' or '\x7F'))
        {
            return "Blanks, control characters and backslashes have no place in an address.";
        }

        if (text.Contains('#'))
        {
            return "An address to send to has no fragment: leave out # and what follows.";
        }

        return FaultOfAuthority(text);
    }

    private static string? FaultOfAuthority(string text)
    {
        var start = new[] { Secure, Plain }
            .FirstOrDefault(scheme => text.StartsWith(scheme, StringComparison.OrdinalIgnoreCase))?.Length;

        if (start is null)
        {
            return "A full address that begins with https:// is accepted.";
        }

        var end = text.IndexOfAny(['/', '?'], start.Value);
        var authority = end < 0 ? text[start.Value..] : text[start.Value..end];

        return authority switch
        {
            "" => "The address names no host.",
            _ when authority.Contains('@') => "Names and passwords have no place in an address.",
            _ when authority.Contains('%') => "The name of the host is written without %.",
            _ => null,
        };
    }

    private static string? FaultOfScheme(Uri address, bool allowsLoopback) =>
        address.Scheme == Uri.UriSchemeHttps || (allowsLoopback && TargetHosts.IsLoopback(address))
            ? null
            : "Messages go over https only.";
}
