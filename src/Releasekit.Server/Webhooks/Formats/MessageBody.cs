namespace Releasekit.Server.Webhooks.Formats;

/// <summary>What is sent of an event: the bytes, which are also what is signed, and what they are.</summary>
/// <param name="MediaType">For Content-Type, such as <c>application/json; charset=utf-8</c>.</param>
internal sealed record MessageBody(byte[] Bytes, string MediaType);
