namespace Releasekit.Server.CalDav.Protocol.Filters;

/// <summary>What is asked of a component and of what it holds (RFC 4791 section 9.7.1).</summary>
/// <param name="Name">In capitals.</param>
/// <param name="IsNotDefined">Whether there must be none; nothing else is asked then.</param>
internal sealed record ComponentFilter(
    string Name,
    bool IsNotDefined,
    TimeRange? Range,
    IReadOnlyList<PropertyFilter> Properties,
    IReadOnlyList<ComponentFilter> Components)
{
    /// <summary>Whether one of the components that stand side by side is what is asked for.</summary>
    public bool Matches(IEnumerable<CalendarScope> siblings)
    {
        var named = siblings.Where(one => one.IsNamed(Name));
        return IsNotDefined ? !named.Any() : named.Any(MatchesOne);
    }

    // The dear question last.
    private bool MatchesOne(CalendarScope scope) => Properties.All(one => one.Matches(scope))
        && Components.All(one => one.Matches(scope.Children))
        && (Range is null || ComponentRange.Overlaps(scope, Range));
}
