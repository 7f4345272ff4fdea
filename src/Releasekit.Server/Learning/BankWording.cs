using System.Globalization;
using Releasekit.Domain.Statistics.Bank;

namespace Releasekit.Server.Learning;

/// <summary>The sentence a person needs about the bank.</summary>
internal static class BankWording
{
    private const int Week = 7;

    public static string Of(int inBank, int? slotDays, WorkSteps? work, CarriesBody? carries, BankQuestion question)
    {
        if (carries is null || work is null)
        {
            return $"{Finished(inBank)}. How far that carries is not known: "
                + (slotDays is null
                    ? "no two slots lie ahead."
                    : "fewer than five releases tell how long they took to make.");
        }

        var span = slotDays == Week ? "weeks" : "slots";
        var chance = ForecastWording.Percent(carries.NoneLate[^1]);
        var pause = question.Break > 0
            ? string.Create(CultureInfo.InvariantCulture, $", a break of {question.Break} before them")
            : string.Empty;
        var carry = inBank > 1 ? "carry" : "carries";
        var today = $"{Finished(inBank)} {carry} you through {carries.Slots} {span} with {chance}{pause}.";

        return $"{today} {Needed(carries, question)}{Overload(work, slotDays!.Value)}";
    }

    private static string Needed(CarriesBody carries, BankQuestion question) => carries.Needed switch
    {
        null => $"No bank is enough for {ForecastWording.Percent(question.Probability)}.",
        0 => $"For {ForecastWording.Percent(question.Probability)} none is needed.",
        var needed => string.Create(
            CultureInfo.InvariantCulture, $"For {ForecastWording.Percent(question.Probability)} it takes {needed}."),
    };

    private static string Overload(WorkSteps work, int slotDays) => work.Mean < slotDays * GetBank.StepsOfDay
        ? string.Empty
        : FormattableString.Invariant($" A release takes {work.Mean / GetBank.StepsOfDay:0.0} days and is promised ")
            + FormattableString.Invariant($"every {slotDays}: ")
            + "in the long run no bank is enough, so promise less often, or make less of each.";

    private static string Finished(int count) => count switch
    {
        0 => "An empty bank",
        1 => "1 finished release",
        _ => string.Create(CultureInfo.InvariantCulture, $"{count} finished releases"),
    };
}
