using NodaTime.Text;
using Releasekit.Server.CalDav.Protocol;

namespace Releasekit.Server.CalDav.Ticking;

/// <summary>What of a to-do says whether it is done. Apps write any part of it.</summary>
/// <param name="Status">In upper case; null when not written.</param>
/// <param name="Completed">The value of COMPLETED; null when not written, also where it cannot be read.</param>
/// <param name="HasCompleted">Whether COMPLETED is written at all.</param>
/// <param name="Percent">Null when not written.</param>
internal sealed record TodoSigns(string? Status, Instant? Completed, bool HasCompleted, int? Percent)
{
    private static readonly InstantPattern Utc = InstantPattern.CreateWithInvariantCulture("uuuuMMdd'T'HHmmss'Z'");

    /// <summary>Any of the three signs.</summary>
    public bool IsDone => Status == "COMPLETED" || HasCompleted || Percent == 100;

    public static TodoSigns Read(TextPart todo) => new(
        todo.First("STATUS")?.Value.Trim().ToUpperInvariant(),
        todo.First("COMPLETED") is { } completed && Utc.Parse(completed.Value.Trim()) is { Success: true } at
            ? at.Value
            : null,
        todo.First("COMPLETED") is not null,
        int.TryParse(todo.First("PERCENT-COMPLETE")?.Value, out var percent) ? percent : null);
}

/// <summary>What a written to-do asks for.</summary>
internal enum TickDeed
{
    /// <summary>Nothing that means anything here.</summary>
    None,

    /// <summary>It is done.</summary>
    Complete,

    /// <summary>It is not done after all.</summary>
    Reopen,

    /// <summary>Work on it began.</summary>
    Start,

    /// <summary>It is left out.</summary>
    Skip,
}

/// <summary>Reads the meaning of a to-do that a client wrote, from what it was served before.</summary>
internal static class Ticks
{
    private static readonly Duration ClockLeeway = Duration.FromMinutes(2);

    /// <summary>
    /// Done by any of three signs; a status other than completed, or the loss of all signs, takes it back; a status
    /// that stays completed while others are lost is still done.
    /// </summary>
    public static TickDeed Decide(TodoSigns before, TodoSigns after)
    {
        if (before.IsDone)
        {
            var isTakenBack = after.Status is not null ? after.Status != "COMPLETED" : !after.IsDone;

            return after.Status == "CANCELLED" || !isTakenBack ? TickDeed.None : TickDeed.Reopen;
        }

        if (after.IsDone)
        {
            return TickDeed.Complete;
        }

        return after.Status == before.Status ? TickDeed.None : after.Status switch
        {
            "CANCELLED" => TickDeed.Skip,
            "IN-PROCESS" => TickDeed.Start,
            "NEEDS-ACTION" when before.Status is "CANCELLED" => TickDeed.Reopen,
            _ => TickDeed.None,
        };
    }

    /// <summary>When it was done: as the client says, if that is no later than now; otherwise now.</summary>
    public static Instant At(TodoSigns after, Instant now) =>
        after.Completed is { } at && at <= now + ClockLeeway ? at : now;
}
