using Refit;

namespace Releasekit.Client.Ideas;

/// <summary>A thing to buy one day.</summary>
/// <param name="BoughtOn">Null while it is wanted.</param>
public sealed record Want(
    Guid Id, string Title, string? Category, Price? Price, string? Url, string? Note, LocalDate? BoughtOn,
    IReadOnlyList<string> Tags, Instant NotedAt, Instant ChangedAt, Instant? RemovedAt);

/// <summary>An amount of money.</summary>
/// <param name="Currency">ISO 4217, such as EUR.</param>
public sealed record Price(decimal Amount, string Currency);

/// <summary>A want to note; a title is enough.</summary>
public sealed record WantValues(
    string Title, string? Category = null, Price? Price = null, string? Url = null, string? Note = null,
    LocalDate? BoughtOn = null, IReadOnlyList<string>? Tags = null, Instant? NotedAt = null);

/// <summary>Which wants to list; null lets all through.</summary>
public sealed record WantFilter(
    [property: AliasAs("category")] string? Category = null,
    [property: AliasAs("bought")] bool? Bought = null,
    [property: AliasAs("q")] string? Text = null,
    [property: AliasAs("tag")] string? Tag = null,
    [property: AliasAs("removed")] bool? Removed = null);
