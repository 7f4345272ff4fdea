using Releasekit.Domain.Schedule;

namespace Releasekit.Domain.Entries;

/// <summary>What holds for every kind of entry.</summary>
public static class EntryRules
{
    private const int MostTags = 20;
    private const int LongestTag = 64;
    private const int LongestUrl = 2_000;
    private static readonly Duration ClockLeeway = Duration.FromMinutes(2);

    /// <summary>Tags as they are kept: trimmed, lower-case, each once, in order.</summary>
    public static IReadOnlyList<string> Tidied(IEnumerable<string>? tags) =>
        [.. (tags ?? []).Select(tag => tag.Trim().ToLowerInvariant()).Distinct().Order(StringComparer.Ordinal)];

    /// <summary>What is wrong with the tags and the time of <paramref name="entry"/>.</summary>
    public static IEnumerable<Fault> FaultsOf(Entry entry, Instant now)
    {
        if (entry.NotedAt > now + ClockLeeway)
        {
            yield return new("/notedAt", $"{entry.NotedAt} is still to come; an entry was noted now or earlier.");
        }

        if (entry.Tags.Count > MostTags)
        {
            yield return new("/tags", $"{MostTags} tags at most; these are {entry.Tags.Count}.");
        }

        foreach (var tag in entry.Tags)
        {
            if (Wording.FaultOfLine(tag, "A tag", LongestTag) is { } fault)
            {
                yield return new("/tags", fault);
            }
            else if (tag.Contains(',', StringComparison.Ordinal))
            {
                yield return new("/tags", $"'{tag}' holds a comma; write two tags.");
            }
        }
    }

    /// <summary>What is wrong with a line that must be there.</summary>
    public static IEnumerable<Fault> FaultsOfLine(
        string? text, string member, string what, int longest = Wording.LongestTitle) =>
        Wording.FaultOfLine(text, what, longest) is { } fault ? [new(member, fault)] : [];

    /// <summary>What is wrong with a text that must not be blank.</summary>
    public static IEnumerable<Fault> FaultsOfText(string text, string member, string what, int longest)
    {
        if (string.IsNullOrWhiteSpace(text))
        {
            return [new(member, $"{what} is needed: 1 to {longest} characters that are not blank.")];
        }

        return Wording.FaultOfText(text, what, longest) is { } fault ? [new(member, fault)] : [];
    }

    /// <summary>What is wrong with a text that may be left out.</summary>
    public static IEnumerable<Fault> FaultsOfNote(string? text, string member = "/note") =>
        Wording.FaultOfText(text, "A note") is { } fault ? [new(member, fault)] : [];

    /// <summary>What is wrong with an address that may be left out.</summary>
    public static IEnumerable<Fault> FaultsOfUrl(string? url)
    {
        var isFine = url is null
            || (url.Length <= LongestUrl
                && Uri.TryCreate(url, UriKind.Absolute, out var parsed)
                && parsed.Scheme is "http" or "https");

        return isFine ? [] : [new("/url", "A full http or https address, 2000 characters at most.")];
    }

    /// <summary>What is wrong with a guess of working time that may be left out.</summary>
    public static IEnumerable<Fault> FaultsOfEffort(Duration? effort) =>
        effort is { } guess && (guess < Duration.Zero || guess > Duration.FromHours(1_000))
            ? [new("/effort", "An effort is working time from PT0S to PT1000H, such as PT1H30M.")]
            : [];

    /// <summary>What is wrong with a recurrence rule that may be left out; read as that of a cadence.</summary>
    public static IEnumerable<Fault> FaultsOfRule(string? rule, LocalDate start) =>
        rule is not null && CadenceRule.TryParse(rule, start, out var refusal) is null
            ? [new("/rrule", refusal!.Reason.Replace("he cadence's", "he", StringComparison.Ordinal))]
            : [];

    /// <summary>A refusal that names all faults; null when there are none.</summary>
    public static Refusal? Refuse(IEnumerable<Fault> faults) =>
        faults.ToArray() is { Length: > 0 } found ? Refusal.NotAcceptable("entry.invalid", found) : null;
}
