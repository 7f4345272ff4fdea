using Microsoft.AspNetCore.Mvc;
using Releasekit.Domain;
using Releasekit.Domain.Entries;
using Releasekit.Domain.Ideas;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Search;

namespace Releasekit.Server.Ideas;

/// <summary>Wants: things to buy one day.</summary>
internal sealed class WantKind : EntryKind<Want, WantValues, WantBody>
{
    public override string Name => "want";

    public override string Description => "A title is enough; categories are your own words.";

    public override Want Write(Want? before, WantValues values, Guid id, EntryScene scene) =>
        (before ?? new Want(id, values.Title, scene.Now)) with
        {
            Title = values.Title,
            NotedAt = values.NotedAt ?? before?.NotedAt ?? scene.Now,
            Category = values.Category?.Trim(),
            Price = values.Price is { } price ? new Price(price.Amount, price.Currency) : null,
            Url = values.Url,
            Note = values.Note,
            BoughtOn = values.BoughtOn,
            Tags = EntryRules.Tidied(values.Tags),
        };

    public override Refusal? Check(Want entry, Instant now) => entry.Check(now);

    public override WantValues ValuesOf(Want entry) => new(
        entry.Title, entry.Category, PriceBody.Of(entry.Price), entry.Url, entry.Note, entry.BoughtOn, entry.Tags,
        entry.NotedAt);

    public override WantBody Show(Want entry, EntryScene scene) => new(
        entry.Id, entry.Title, entry.Category, PriceBody.Of(entry.Price), entry.Url, entry.Note, entry.BoughtOn,
        entry.Tags, entry.NotedAt, entry.ChangedAt, entry.RemovedAt);

    public override string IdentityOf(Want entry) => $"{entry.Title}\n{entry.Category}";

    public override Searchable Searched(Want entry) => new(
        entry.Title, $"{entry.Category}\n{entry.Note}\n{string.Join(' ', entry.Tags)}", entry.ChangedAt);
}

/// <param name="Amount">From 0, with four decimals at most.</param>
/// <param name="Currency">Three capital letters of ISO 4217, such as EUR.</param>
internal sealed record PriceBody(decimal Amount, string Currency)
{
    public static PriceBody? Of(Price? price) => price is null ? null : new(price.Amount, price.Currency);
}

/// <param name="Title">What is wanted; one line.</param>
/// <param name="Category">In your own words, such as "recording".</param>
/// <param name="Price">What it costs.</param>
/// <param name="Url">Where it can be had.</param>
/// <param name="Note">Anything else.</param>
/// <param name="BoughtOn">The local date it was bought; left out while it is wanted.</param>
/// <param name="Tags">Words to find it by; kept in lower case.</param>
/// <param name="NotedAt">When it came to mind; now when left out.</param>
internal sealed record WantValues(
    string Title,
    string? Category = null,
    PriceBody? Price = null,
    string? Url = null,
    string? Note = null,
    LocalDate? BoughtOn = null,
    IReadOnlyList<string>? Tags = null,
    Instant? NotedAt = null);

/// <param name="Id">Given when it was noted.</param>
/// <param name="Title">What is wanted.</param>
/// <param name="Category">In the user's own words; null for none.</param>
/// <param name="Price">Null while nobody looked.</param>
/// <param name="Url">Where it can be had; null when nobody said.</param>
/// <param name="Note">Anything else; null for nothing.</param>
/// <param name="BoughtOn">The local date it was bought; null while it is wanted.</param>
/// <param name="Tags">In lower case, in order.</param>
/// <param name="NotedAt">When it came to mind.</param>
/// <param name="ChangedAt">When it was last changed.</param>
/// <param name="RemovedAt">When it was removed; null while it stands.</param>
internal sealed record WantBody(
    Guid Id, string Title, string? Category, PriceBody? Price, string? Url, string? Note, LocalDate? BoughtOn,
    IReadOnlyList<string> Tags, Instant NotedAt, Instant ChangedAt, Instant? RemovedAt) : ITagged;

/// <param name="Category">Exactly this category.</param>
/// <param name="Bought">True: only what was bought; false: only what is still wanted.</param>
/// <param name="Q">Part of the title, in any case.</param>
internal sealed record WantFilter(
    [property: FromQuery(Name = "category")] string? Category = null,
    [property: FromQuery(Name = "bought")] bool? Bought = null,
    [property: FromQuery(Name = "q")] string? Q = null) : IEntryFilter<Want>
{
    public IQueryable<Want> Apply(IQueryable<Want> entries, EntryScene scene)
    {
        var wants = Category is { } category ? entries.Where(want => want.Category == category) : entries;

        if (Bought is { } bought)
        {
            wants = bought ? wants.Where(want => want.BoughtOn != null) : wants.Where(want => want.BoughtOn == null);
        }

        return Q is { Length: > 0 } text
            ? wants.Where(want => want.Title.Contains(text, StringComparison.OrdinalIgnoreCase))
            : wants;
    }
}
