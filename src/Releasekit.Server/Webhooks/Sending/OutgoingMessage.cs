using Releasekit.Server.Webhooks.Formats;
using Releasekit.Server.Webhooks.Signing;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>A message as one attempt sends it.</summary>
/// <param name="Replayed">Whether its owner asked for it once more.</param>
internal sealed record OutgoingMessage(SignedHeaders Headers, MessageBody Body, bool Replayed = false);
