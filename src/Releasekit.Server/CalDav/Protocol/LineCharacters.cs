using System.Buffers;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>Which characters a content line may hold, and where.</summary>
internal static class LineCharacters
{
    // The low line and the full stop are not in the standard, but in names that are in use.
    private static readonly SearchValues<char> OfNames = SearchValues.Create(
        "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_.");

    /// <summary>What XML 1.0, and so an answer to a report, cannot carry; and line ends, which it changes.</summary>
    private static readonly SearchValues<char> Forbidden = SearchValues.Create(
        [.. Enumerable.Range(0, ' ').Select(code => (char)code).Where(code => code != '\t'), '\uFFFE', '\uFFFF']);

    public static bool ContainsOnlyNameCharacters(this ReadOnlySpan<char> text) => !text.ContainsAnyExcept(OfNames);

    public static bool ContainsAnyForbidden(this ReadOnlySpan<char> text) => text.ContainsAny(Forbidden);
}
