namespace Releasekit.Server.Cluster;

/// <summary>
/// The service will not start. The message is one sentence for the person who typed the command: what is in the way,
/// and what would be right. It is printed alone, without a stack trace, and the exit code is not 0.
/// </summary>
internal sealed class StartRefusal(string sentence, Exception? cause = null) : Exception(sentence, cause);
