using Releasekit.Domain.Entries;

namespace Releasekit.Domain.Ideas;

/// <summary>A thing to buy one day.</summary>
public sealed record Want(Guid Id, string Title, Instant NotedAt) : Entry(Id, NotedAt)
{
    private const int LongestCategory = 64;

    /// <summary>In the user's own words; null for none.</summary>
    public string? Category { get; init; }

    /// <summary>What it costs; null while nobody looked.</summary>
    public Price? Price { get; init; }

    /// <summary>Where it can be had.</summary>
    public string? Url { get; init; }

    /// <summary>Anything else.</summary>
    public string? Note { get; init; }

    /// <summary>The local date it was bought; null while it is wanted.</summary>
    public LocalDate? BoughtOn { get; init; }

    /// <summary>Refuses with a fault for each thing that is wrong; null means acceptable.</summary>
    public Refusal? Check(Instant now) => EntryRules.Refuse(
    [
        .. EntryRules.FaultsOfLine(Title, "/title", "The title of a want"),
        .. Category is null ? [] : EntryRules.FaultsOfLine(Category, "/category", "A category", LongestCategory),
        .. Price?.Faults ?? [],
        .. EntryRules.FaultsOfUrl(Url),
        .. EntryRules.FaultsOfNote(Note),
        .. EntryRules.FaultsOf(this, now),
    ]);
}

/// <summary>An amount of money.</summary>
/// <param name="Currency">Three letters of ISO 4217, such as EUR.</param>
public sealed record Price(decimal Amount, string Currency)
{
    private const decimal Most = 1_000_000_000m;

    internal IEnumerable<Fault> Faults
    {
        get
        {
            if (Amount is < 0 or > Most || decimal.Round(Amount, 4) != Amount)
            {
                yield return new("/price/amount", "An amount is from 0 to 1000000000, with four decimals at most.");
            }

            if (Currency is not { Length: 3 } || !Currency.All(char.IsAsciiLetterUpper))
            {
                yield return new("/price/currency", "A currency is three capital letters of ISO 4217, such as EUR.");
            }
        }
    }
}
