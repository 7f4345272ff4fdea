using Releasekit.Benchmarks;

// ops/bench [transitions] [feed] [import] [planning] [start]      all parts when none is named
// ops/crash [kills]                                    kills the service, 20 times unless said otherwise
if (args is ["crash", .. var rest])
{
    return await CrashRun.Run(
        rest is [var kills] ? int.Parse(kills, System.Globalization.CultureInfo.InvariantCulture) : 20);
}

Machine.Describe();
var parts = args.Length == 0 ? ["start", "transitions", "feed", "import", "planning"] : args;

foreach (var part in parts)
{
    await (part switch
    {
        "start" => StartBenchmark.Run(),
        "transitions" => TransitionBenchmark.Run(),
        "feed" => FeedBenchmark.Run(),
        "import" => ImportBenchmark.Run(),
        "planning" => PlanningBenchmark.Run(),
        _ => throw new ArgumentException(
            $"There is no part '{part}'; there are start, transitions, feed, import, planning."),
    });
}

return 0;
