namespace Releasekit.Domain.Webhooks;

/// <summary>Words the refusals of webhooks in one place.</summary>
public static class WebhookRefusals
{
    /// <summary>A refusal of an endpoint that is to be made or changed; 422, each fault with its member.</summary>
    public static Refusal Of(params IReadOnlyList<Fault> faults) => Refusal.NotAcceptable("webhook.invalid", faults);
}
