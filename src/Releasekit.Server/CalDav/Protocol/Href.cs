using System.Buffers;
using System.Text;

namespace Releasekit.Server.CalDav.Protocol;

/// <summary>
/// The path of a resource (RFC 4918 s.8.3, RFC 3986): read in whatever way a client encodes it, compared decoded, and
/// always written in one way.
/// </summary>
internal sealed class Href : IEquatable<Href>
{
    private static readonly SearchValues<char> Digits = SearchValues.Create("0123456789abcdefABCDEF");
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    private readonly string _text;

    private Href(IReadOnlyList<string> segments, bool isCollection)
    {
        (Segments, IsCollection) = (segments, isCollection);
        _text = "/" + string.Join('/', segments.Select(Encode)) + (isCollection && segments.Count > 0 ? "/" : "");
    }

    /// <summary>The parts between the slashes, decoded; a part may hold a slash itself. None for the root.</summary>
    public IReadOnlyList<string> Segments { get; }

    /// <summary>Whether it ends in a slash, as those of collections do.</summary>
    public bool IsCollection { get; }

    /// <param name="segments">Decoded.</param>
    /// <exception cref="ArgumentException">A segment that no path can hold: empty, a dot segment, control characters
    /// or half a surrogate pair.</exception>
    public static Href Of(bool isCollection, params IReadOnlyList<string> segments) =>
        segments.FirstOrDefault(segment => !CanStand(segment)) is { } wrong
            ? throw new ArgumentException($"'{wrong}' cannot be a part of a path.", nameof(segments))
            : new([.. segments], isCollection || segments.Count == 0);

    /// <summary>
    /// Reads an absolute path or an http(s) URI; null for anything else, which then names no resource here. The
    /// authority of a URI is not looked at: behind a proxy it is not the one that the service knows, and who may see a
    /// resource never depends on it.
    /// </summary>
    public static Href? TryParse(string text)
    {
        var path = PathOf(text.Trim());

        if (path is null || path[0] is not '/' || path.AsSpan().ContainsAny('?', '#', '\\'))
        {
            return null;
        }

        var isCollection = path[^1] is '/';
        var parts = path.Length == 1 ? [] : path[1..(isCollection ? ^1 : ^0)].Split('/');
        var segments = parts.Select(Decode).OfType<string>().Where(CanStand).ToList();

        return segments.Count == parts.Length ? new(segments, isCollection) : null;
    }

    /// <summary>Whether it stands directly in a collection.</summary>
    public bool IsMemberOf(Href collection) =>
        Segments.Count == collection.Segments.Count + 1
        && Segments.Take(collection.Segments.Count).SequenceEqual(collection.Segments, StringComparer.Ordinal);

    /// <summary>
    /// The absolute path; all but the unreserved characters of RFC 3986 s.2.3 and @ is percent-encoded, in upper case.
    /// </summary>
    public override string ToString() => _text;

    public bool Equals(Href? other) => other is not null && _text == other._text;

    public override bool Equals(object? obj) => Equals(obj as Href);

    public override int GetHashCode() => StringComparer.Ordinal.GetHashCode(_text);

    private static string? PathOf(string text)
    {
        foreach (var scheme in (string[])["http://", "https://"])
        {
            if (text.StartsWith(scheme, StringComparison.OrdinalIgnoreCase))
            {
                var path = text.IndexOf('/', scheme.Length);

                return text.Length == scheme.Length || path == scheme.Length ? null : path < 0 ? "/" : text[path..];
            }
        }

        return text.Length > 0 ? text : null;
    }

    private static string Encode(string segment) =>
        Uri.EscapeDataString(segment).Replace("%40", "@", StringComparison.Ordinal);

    /// <summary>Null if it is not the percent-encoding of a text in UTF-8.</summary>
    private static string? Decode(string part)
    {
        var bytes = new List<byte>(part.Length);

        try
        {
            for (var i = 0; i < part.Length;)
            {
                var run = part.AsSpan(i).IndexOf('%') is var next and >= 0 ? next : part.Length - i;
                bytes.AddRange(Strict.GetBytes(part, i, run));
                i += run;

                if (i < part.Length)
                {
                    if (i + 2 >= part.Length || part.AsSpan(i + 1, 2).ContainsAnyExcept(Digits))
                    {
                        return null;
                    }

                    bytes.Add(Convert.FromHexString(part.AsSpan(i + 1, 2))[0]);
                    i += 3;
                }
            }

            return Strict.GetString([.. bytes]);
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    private static bool CanStand(string segment) =>
        segment is not ("" or "." or "..") && !segment.Any(char.IsControl)
        && Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(segment)) == segment;
}
