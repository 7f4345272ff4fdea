using Releasekit.Domain;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Server.Webhooks.Signing;

/// <summary>The secrets of an endpoint: the one in force, and for some time after a rotation the one before.</summary>
/// <param name="Previous">Null when there is none any more, or never was.</param>
/// <param name="PreviousUntil">Until then the previous one signs too, UTC.</param>
internal sealed record SigningKeys(
    SigningSecret Current, SigningSecret? Previous = null, Instant? PreviousUntil = null)
{
    /// <summary>How long the previous secret signs too, unless the owner says otherwise.</summary>
    public static readonly Duration UsualOverlap = Duration.FromHours(24);

    private static readonly Duration LongestOverlap = Duration.FromDays(7);

    /// <summary>
    /// Puts another secret in force. Of two rotations soon after each other only the last two secrets sign.
    /// </summary>
    /// <param name="overlap">How long the secret that was in force signs too; zero to 7 days.</param>
    public SigningKeys? Rotate(SigningSecret next, Duration overlap, Instant now, out Refusal? refusal)
    {
        refusal = overlap < Duration.Zero || overlap > LongestOverlap
            ? WebhookRefusals.Of(new Fault("/overlap", "A duration from PT0S to P7D, such as PT24H."))
            : next.Is(Current)
                ? WebhookRefusals.Of(new Fault("/secret", "This secret is in force already; rotation takes another."))
                : null;

        return refusal is not null ? null
            : overlap == Duration.Zero ? new(next)
            : new(next, Current, now + overlap);
    }

    /// <summary>
    /// The secrets to sign with at <paramref name="now"/>, in the order of their signatures. During a rotation the new
    /// one stands on both sides of the old one: a widely used receiver does not look at the last signature of several,
    /// and this is the one order that lets every receiver find its own.
    /// </summary>
    public IReadOnlyList<SigningSecret> At(Instant now) =>
        Previous is not null && now < PreviousUntil ? [Current, Previous, Current] : [Current];
}
