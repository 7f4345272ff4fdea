using Releasekit.Domain.Statistics;

namespace Releasekit.Server.Learning;

/// <param name="At">As of then, UTC.</param>
/// <param name="Probability">What was asked for, 0 to 1.</param>
/// <param name="Break">How many slots in a row nobody works for.</param>
/// <param name="InBank">Finished, unpublished releases.</param>
/// <param name="SlotDays">Days from slot to slot, rounded down; null when no two slots lie ahead.</param>
/// <param name="Work">
/// Elapsed days that a release takes to make when nothing else is in the making: no more than from its start to ready,
/// and no more than its working hours fill in the publisher's week. Begun quarters of a day count whole in what
/// follows.
/// </param>
/// <param name="LeftOut">Releases that cannot tell when they were begun.</param>
/// <param name="Load">
/// How much of the time from slot to slot the work takes, 1 being all of it; null without past releases.
/// </param>
/// <param name="Carries">What today's bank covers; null when too little is known, and then why.</param>
/// <param name="LongRun">What a bank has to hold for good when late is late; null when none is enough, or too little is
/// known.</param>
/// <param name="Lost">The same when a missed slot is lost, from how many became ready from slot to slot.</param>
/// <param name="Missing">Why something is not told; null when all is.</param>
/// <param name="Says">What it comes to, in a sentence or two.</param>
/// <param name="Assumes">What must hold for it to be right.</param>
internal sealed record BankBody(
    Instant At,
    double Probability,
    int Break,
    int InBank,
    int? SlotDays,
    Spread Work,
    int LeftOut,
    double? Load,
    CarriesBody? Carries,
    LongRunBody? LongRun,
    LostBody? Lost,
    Lack? Missing,
    string Says,
    string Assumes)
{
    public const string UsualAssumptions =
        "Work times are independent and like those of the past, one release at a time, and the next one is begun now; "
        + "what is in the making already counts for nothing.";
}

/// <summary>Exact for the past work times; begun now, without a limit of the bank.</summary>
/// <param name="Slots">How many slots are looked at.</param>
/// <param name="NoneLate">By number of slots, from 1: the probability that none up to then is late.</param>
/// <param name="Low">What the last of them may be as low as, since few releases are known (bootstrap, 95 %).</param>
/// <param name="High">What it may be as high as.</param>
/// <param name="Needed">
/// The smallest bank for all of them with the probability asked for, the break included; null when none is enough.
/// </param>
internal sealed record CarriesBody(int Slots, IReadOnlyList<double> NoneLate, double? Low, double? High, int? Needed);

/// <summary>Each publication orders a new release; those wait for each other.</summary>
/// <param name="OnTime">With so many finished or in work, from 1 on: the share of slots that are met.</param>
/// <param name="Needed">The fewest finished or in work for the probability asked for; null when none is enough.</param>
/// <param name="MeanWaitDays">How many days a release waits for those before it, on average.</param>
internal sealed record LongRunBody(IReadOnlyList<double> OnTime, int? Needed, double MeanWaitDays);

/// <summary>A bank that holds so many at most, filled by what becomes ready from slot to slot.</summary>
/// <param name="ReadyPerSlot">By k, from 0: the share of intervals between slots in which k became ready.</param>
/// <param name="Intervals">How many intervals that rests on.</param>
/// <param name="Missed">With a bank of at most so many, from 1 on: the share of slots that are missed.</param>
/// <param name="Needed">The smallest such bank for the probability asked for; null when none is enough.</param>
internal sealed record LostBody(
    IReadOnlyList<double> ReadyPerSlot, int Intervals, IReadOnlyList<double> Missed, int? Needed);
