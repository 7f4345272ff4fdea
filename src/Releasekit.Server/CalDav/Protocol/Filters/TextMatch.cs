namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>A search for a part of a text (RFC 4791 sections 7.5 and 9.7.5).</summary>
/// <param name="IsExact">
/// True for the collation <c>i;octet</c>; false for <c>i;ascii-casemap</c>, which takes a to z for A to Z and leaves
/// every other letter as it is.
/// </param>
/// <param name="IsNegated">Whether the text must not be there.</param>
internal sealed record TextMatch(string Text, bool IsExact, bool IsNegated)
{
    public bool Matches(string value) => Contains(value) != IsNegated;

    private bool Contains(string value) => IsExact
        ? value.Contains(Text, StringComparison.Ordinal)
        : Fold(value).Contains(Fold(Text), StringComparison.Ordinal);

    // Not OrdinalIgnoreCase: that folds letters outside of ASCII too.
    private static string Fold(string text) => string.Create(text.Length, text, static (folded, source) =>
    {
        for (var i = 0; i < folded.Length; i++)
        {
            folded[i] = char.IsAsciiLetterLower(source[i]) ? (char)(source[i] - ('a' - 'A')) : source[i];
        }
    });
}
