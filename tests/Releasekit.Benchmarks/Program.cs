using System.Globalization;
using Releasekit.Benchmarks;
using Releasekit.Benchmarks.Crash;

// ops/bench [start] [transitions] [feed] [import] [planning]      all parts when none is named
// ops/crash [kills]                                    20 times unless said otherwise
return await Interruption.Around(async () =>
{
    await Machine.Describe();

    if (args is ["crash", .. var rest])
    {
        return await CrashRun.Run(rest is [var kills] ? int.Parse(kills, CultureInfo.InvariantCulture) : 20);
    }

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
});
