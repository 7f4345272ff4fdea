using System.Globalization;
using Releasekit.Benchmarks;
using Releasekit.Benchmarks.Crash;

// ops/bench [start] [transitions] [feed] [import] [planning] [sequencing] [search] [sheets] [learning]
//           [forecast] [growth]                        all when none is named
// ops/crash [kills]                                    20 times unless said otherwise
return await Interruption.Around(async () =>
{
    await Machine.Describe();

    if (args is ["crash", .. var rest])
    {
        return await CrashRun.Run(rest is [var kills] ? int.Parse(kills, CultureInfo.InvariantCulture) : 20);
    }

    string[] all = ["start", "transitions", "feed", "import", "planning", "sequencing", "search", "sheets", "learning",
        "forecast", "growth"];
    var parts = args.Length == 0 ? all : args;

    foreach (var part in parts)
    {
        await (part switch
        {
            "start" => StartBenchmark.Run(),
            "transitions" => TransitionBenchmark.Run(),
            "feed" => FeedBenchmark.Run(),
            "import" => ImportBenchmark.Run(),
            "planning" => PlanningBenchmark.Run(),
            "sequencing" => SequencingBenchmark.Run(),
            "search" => SearchBenchmark.Run(),
            "sheets" => SheetBenchmark.Run(),
            "learning" => LearningBenchmark.Run(),
            "forecast" => ForecastBenchmark.Run(),
            "growth" => GrowthBenchmark.Run(),
            _ => throw new ArgumentException($"There is no part '{part}'; there are {string.Join(", ", all)}."),
        });
    }

    return 0;
});
