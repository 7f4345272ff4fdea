using Microsoft.OpenApi;

namespace Releasekit.Server.Docs;

/// <summary>What parameters of addresses and queries mean: one name, one meaning, on every route.</summary>
internal static class ContractParameters
{
    private static readonly Dictionary<string, string> Meanings = new()
    {
        ["limit"] = "Items a page: 50 when left out; more than 200 is taken as 200.",
        ["cursor"] = "What the page before gave as next; goes with the filters it was given out for.",
        ["series"] = "The id of a series.",
        ["from"] = "Local date, included.",
        ["to"] = "Local date, excluded.",
        ["at"] = "As of this instant; now when left out. In a query a plus is written %2B.",
        ["known"] = "then or now (the default): what was known at that moment, or what was so then as we know now.",
        ["state"] = "Releases: planned, in_progress, finished, published, closed or dropped. "
            + "Projects: candidate, started, finished or dropped.",
        ["stage"] = "The key of a stage.",
        ["q"] = "Part of the title, in any case.",
        ["id"] = "The id that the service gave out.",
        ["plan"] = "The id of a stage plan.",
        ["version"] = "A version of the plan; the latest when left out.",
        ["date"] = "The original local date of a slot.",
        ["item"] = "The key of a checklist item, or its text.",
        ["sequence"] = "The number of the transition's event in the history of its release.",
        ["reassign"] = "true: releases on slots that vanish move to the next free slots.",
        ["map"] = "What columns tell: fact:column, comma-separated.",
        ["ignore"] = "Columns to skip, comma-separated.",
        ["kind"] = "What is looked for or brought in, such as releases or ideas; the description lists the kinds.",
        ["dryRun"] = "true: everything is checked and counted, nothing is stored.",
        ["tag"] = "A tag, in any case.",
        ["removed"] = "true: only those that were removed and can be restored.",
        ["worth"] = "1, 2 or 3.",
        ["promoted"] = "true: only those that became releases; false: only those that did not.",
        ["link"] = "An address that the notes are about, such as /v1/releases/{id}.",
        ["category"] = "Exactly this category.",
        ["bought"] = "true: only what was bought; false: only what is still wanted.",
        ["done"] = "true: only done ones; false: only open ones.",
        ["sphere"] = "work or personal.",
        ["important"] = "true: only important ones; false: only the others.",
        ["recurrence"] = "Those of one recurrence.",
        ["busy"] = "true: only busy ones; false: only the others.",
        ["without"] = "The id of a release to leave out: what if it were dropped?",
        ["hours"] = "Working hours a week instead of yours, 0 to 168: what if there were so many?",
        ["rank"] = "1, 2 or 3, 3 the highest.",
        ["sort"] = "rank: the highest first; in the order they were entered when left out.",
        ["step"] = "The key of a step, such as s1.",
        ["after"] = "The last of the answer before; from the beginning when left out.",
        ["type"] = "Only this type, such as stage.overdue, or a group of them, such as slot.*.",
        ["format"] = "json (the usual) or csv.",
        ["measure"] = "cycle, lateness, or the key of a stage.",
        ["baseline"] = "How many first points of a phase the limits rest on: 2 to 200, usually 20.",
        ["restart"] = "A local date from which the way of working was another: limits begin anew.",
        ["probability"] = "Between 0 and 1; 0.95 when left out.",
        ["break"] = "How many slots in a row nobody works for, 0 to 52; none when left out.",
        ["slots"] = "How many slots ahead, 1 to 52; 12 when left out.",
        ["days"] = "How many days you would give a new project.",
        ["by"] = "Local date, included: how many are ready by the end of it.",
        ["seed"] = "A whole number from 0 on; 1 when left out. The same seed gives the same answer.",
        ["trials"] = "How many trials are run, 100 to 100000; 10000 when left out.",
        ["year"] = "A year from 1970 to 2199.",
        ["month"] = "A month, such as 2026-03.",
        ["week"] = "An ISO week, such as 2026-W10.",
        ["secret"] = "The secret of the feed, from its address.",
    };

    public static void Describe(OpenApiOperation operation)
    {
        foreach (var parameter in (operation.Parameters ?? []).OfType<OpenApiParameter>())
        {
            parameter.Description ??= Meanings.GetValueOrDefault(parameter.Name ?? string.Empty);
        }
    }
}
