namespace Releasekit.Domain.Webhooks;

/// <summary>
/// Which event types an endpoint wants: types such as <c>stage.completed</c>, groups such as <c>release.*</c>, or
/// <c>*</c> for every type, those still to come included.
/// </summary>
public sealed class EventFilter
{
    private const string Everything = "*";
    private const string GroupEnding = ".*";
    private const int MostPatterns = 100;

    private readonly HashSet<string> _types;
    private readonly string[] _groups;
    private readonly bool _isEverything;

    private EventFilter(IReadOnlyList<string> patterns)
    {
        Patterns = patterns;
        _isEverything = patterns.Contains(Everything);
        _types = patterns.Where(pattern => !IsGroup(pattern)).ToHashSet(StringComparer.Ordinal);
        _groups = [.. patterns.Where(IsGroup).Select(group => group[..^1])];
    }

    /// <summary>What was asked for, in that order, each once.</summary>
    public IReadOnlyList<string> Patterns { get; }

    /// <summary>Reads what an endpoint asks for; null with a refusal that names every fault.</summary>
    /// <param name="asked">Types, groups or <c>*</c>; at least one.</param>
    /// <param name="known">Every event type there is; a group must hold one of them.</param>
    /// <param name="refusal">Members under <c>/types</c>.</param>
    public static EventFilter? TryParse(
        IReadOnlyList<string> asked, IReadOnlyCollection<string> known, out Refusal? refusal)
    {
        var faults = Faults(asked, known).ToArray();
        refusal = faults.Length > 0 ? WebhookRefusals.Of(faults) : null;

        return refusal is null ? new([.. asked.Distinct(StringComparer.Ordinal)]) : null;
    }

    /// <summary>Whether the endpoint wants events of this type.</summary>
    public bool Wants(string type) => _isEverything
        || _types.Contains(type)
        || _groups.Any(group => type.StartsWith(group, StringComparison.Ordinal));

    private static IEnumerable<Fault> Faults(IReadOnlyList<string> asked, IReadOnlyCollection<string> known)
    {
        if (asked.Count is 0 or > MostPatterns)
        {
            yield return new(
                "/types", $"1 to {MostPatterns} event types, such as stage.completed, release.* or * for all.");
        }

        for (var i = 0; i < Math.Min(asked.Count, MostPatterns); i++)
        {
            if (asked[i] is not { } pattern || !IsKnown(pattern, known))
            {
                yield return new($"/types/{i}", $"There is no event type {Shown(asked[i])}; {Offer(known)}.");
            }
        }
    }

    private static bool IsKnown(string pattern, IReadOnlyCollection<string> known) =>
        pattern == Everything || (IsGroup(pattern)
            ? pattern.Length > GroupEnding.Length
                && known.Any(type => type.StartsWith(pattern[..^1], StringComparison.Ordinal))
            : known.Contains(pattern));

    private static bool IsGroup(string pattern) => pattern.EndsWith(GroupEnding, StringComparison.Ordinal);

    private static string Offer(IReadOnlyCollection<string> known)
    {
        var groups = known.Where(type => type.Contains('.')).Select(type => type[..type.IndexOf('.')] + GroupEnding)
            .Distinct(StringComparer.Ordinal);

        return $"there are {string.Join(", ", known)}, the groups {string.Join(", ", groups)}, and * for all";
    }

    private static string Shown(string? pattern) => pattern switch
    {
        null => "null",
        { Length: > 60 } => $"'{pattern[..60]}…'",
        _ => $"'{pattern}'",
    };
}
