using NodaTime.Text;
using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Plans;
using Releasekit.Server.Schedule;
using Releasekit.Server.Store;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/series: opens a series that comes every few weeks, with a stage plan of its own.</summary>
internal static class OpenFirstSeries
{
    public const string Name = "series";

    /// <summary>The zone of a publisher that never said where it is.</summary>
    private const string NoZone = "Etc/UTC";

    private static readonly string[] Days = ["MO", "TU", "WE", "TH", "FR", "SA", "SU"];

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        var answer = await ledger.Write<SeriesBody>(caller.Publisher, async unit =>
        {
            if (Faults(form).ToArray() is { Length: > 0 } faults)
            {
                return Problems.Of(Refusal.NotAcceptable("series.invalid", faults));
            }

            var plan = PlanOf(form);

            if (StagePlanRules.Check(plan) is { } refusal)
            {
                return Problems.Of(refusal);
            }

            if (await unit.Documents.LoadAsync<StagePlanVersions>(plan.Id, cancel) is not null)
            {
                return Problems.Of(
                    "exists", $"There is a stage plan '{plan.Id}' already; give the series another title.",
                    new ProblemError("/title", "Taken."));
            }

            unit.Documents.Insert(new StagePlanVersions(plan.Id, [plan]));
            var opened = await OpenSeries.Begin(unit, RequestOf(form, plan), clock.Now, cancel, plan);

            if (opened.Problem is null && caller.Scopes.Contains(Scope.Admin)
                && await unit.Publisher() is { Zone: NoZone } publisher)
            {
                unit.Documents.Store(publisher with { Zone = form["zone"], ChangedAt = clock.Now });
            }

            return opened;
        }, cancel);

        await form.Answer(http, caller, pages, Name, answer);
    });

    private static IEnumerable<Fault> Faults(SentForm form)
    {
        if (Wording.FaultOfLine(form["title"], "A title") is { } title)
        {
            yield return new("/title", title);
        }

        if (!LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(form["time"]).Success)
        {
            yield return new("/time", "A time of day such as 07:00.");
        }

        if (LocalTimes.FindZone(form["zone"]) is null)
        {
            yield return new(
                "/zone",
                $"'{form["zone"]}' is no time zone of the IANA database; write it like Europe/Lisbon.");
        }

        if (StagesOf(form).All(name => !IsPublication(form, name)))
        {
            yield return new(
                "/stages", $"One line must be '{form["publication"]}', the stage that publishes; or name another one.");
        }
    }

    private static string[] StagesOf(SentForm form) =>
        form["stages"].Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);

    private static bool IsPublication(SentForm form, string name) =>
        name.Equals(form["publication"], StringComparison.OrdinalIgnoreCase);

    /// <summary>Every stage follows the one before it.</summary>
    private static StagePlan PlanOf(SentForm form)
    {
        var lines = ChecklistItem.ListOf(StagesOf(form));

        return new(Wording.KeyOf(form["title"]), form["title"], 1, PlannedStageBody.ToStages(
            [.. lines.Select(line => new PlannedStageBody(line.Key, line.Text, IsPublication(form, line.Text)))]));
    }

    private static OpenSeriesRequest RequestOf(SentForm form, StagePlan plan)
    {
        var day = int.TryParse(form["weekday"], out var number) && number is >= 1 and <= 7 ? Days[number - 1] : Days[0];
        var every = int.TryParse(form["every"], out var weeks) && weeks is >= 1 and <= 52 ? weeks : 1;
        var time = LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(form["time"]).Value;

        return new(
            plan.Id, form["title"], plan.Id,
            new CadenceRequest($"FREQ=WEEKLY;INTERVAL={every};BYDAY={day}", time, form["zone"]));
    }
}
