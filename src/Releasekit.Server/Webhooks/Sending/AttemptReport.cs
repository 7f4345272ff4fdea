using System.Net;
using Releasekit.Domain.Webhooks;

namespace Releasekit.Server.Webhooks.Sending;

/// <summary>What is kept of an attempt.</summary>
/// <param name="Took">From the first moment to the last byte that was read.</param>
/// <param name="Answer">How the answer begins, as bytes: a stranger's text, to be escaped wherever it is shown.</param>
/// <param name="Dialled">The address; null when none was, or the connection of an earlier attempt was used.</param>
internal sealed record AttemptReport(AttemptOutcome Outcome, TimeSpan Took, byte[] Answer, IPAddress? Dialled);
