namespace Releasekit.Server.Demo;

/// <summary>One request of the demo's story, made while the clock stands at its time.</summary>
/// <param name="Path">May hold <c>{name}</c>, the id that an earlier answer gave that name, and
/// <c>{name.sequence}</c>.</param>
/// <param name="Body">As JSON; null for none.</param>
/// <param name="Names">What the answer's id is called from here on; null when nobody asks for it.</param>
/// <param name="Changes">Whether it changes what GET shows there, and so needs its ETag.</param>
/// <param name="Tag">Where the ETag is read; null: where it changes something.</param>
internal sealed record Deed(
    Instant At, HttpMethod Method, string Path, object? Body = null, string? Names = null, bool Changes = false,
    string? Tag = null);
