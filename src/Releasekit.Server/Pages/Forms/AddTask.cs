using NodaTime.Text;
using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Entries;
using Releasekit.Server.Http;
using Releasekit.Server.Store;
using Releasekit.Server.Work;

namespace Releasekit.Server.Pages.Forms;

/// <summary>POST /forms/task: a task for a day, a week or a month.</summary>
internal static class AddTask
{
    public const string Name = "task";

    /// <summary>What the form offers for "when", by value; a day that was typed in goes before it.</summary>
    public static readonly IReadOnlyList<(string Value, string Text)> Whens =
    [
        ("this-week", "this week"),
        ("next-week", "next week"),
        ("this-month", "this month"),
        ("next-month", "next month"),
        ("today", "today"),
        ("tomorrow", "tomorrow"),
    ];

    public static void Map(IEndpointRouteBuilder forms) => forms.MapPost($"/{Name}", async (
        SentForm form, HttpContext http, Caller caller, Ledger ledger, SheetPages pages, ServiceClock clock,
        CancellationToken cancel) =>
    {
        var id = NewIds.Next();
        var answer = await ledger.Write<TaskBody>(caller.Publisher, async unit =>
        {
            var scene = await EntryScene.Load(unit.Documents, clock.Now, cancel);

            if (WhenOf(form, scene.Today) is not { } when)
            {
                const string right = "A date such as 2026-03-05, or nothing: then it is for the week or month chosen.";
                return Problems.Of("task.invalid", right, new ProblemError("/day", right));
            }

            var kind = new TaskKind();
            var values = new TaskValues(
                form["title"], when.ToString(), form.Has("personal") ? Sphere.Personal : Sphere.Work,
                form.Has("important"));
            var (task, problem) = await EntryWriting.Write(kind, unit, null, values, id, scene);

            return problem is not null ? problem : kind.Show(task, scene);
        }, cancel);

        await form.Answer(http, caller, pages, Name, answer, place: "tasks");
    });

    private static CalendarPeriod? WhenOf(SentForm form, LocalDate today) => form["day"] is { Length: > 0 } day
        ? LocalDatePattern.Iso.Parse(day) is { Success: true } ? CalendarPeriod.TryParse(day) : null
        : form["for"] switch
        {
            "today" => new(PeriodKind.Day, today),
            "tomorrow" => new(PeriodKind.Day, today.PlusDays(1)),
            "next-week" => CalendarPeriod.Holding(PeriodKind.Week, today.PlusWeeks(1)),
            "this-month" => CalendarPeriod.Holding(PeriodKind.Month, today),
            "next-month" => CalendarPeriod.Holding(
                PeriodKind.Month, today.With(DateAdjusters.StartOfMonth).PlusMonths(1)),
            _ => CalendarPeriod.Holding(PeriodKind.Week, today),
        };
}
