using System.Globalization;
using System.Runtime.InteropServices;
using Releasekit.Benchmarks;
using Releasekit.Benchmarks.Crash;

// ops/bench [start] [transitions] [feed] [import] [planning] [sequencing] [search]      all parts when none is named
// ops/crash [kills]                                    20 times unless said otherwise
using var interrupted = PosixSignalRegistration.Create(PosixSignal.SIGINT, LeaveNothing);
using var terminated = PosixSignalRegistration.Create(PosixSignal.SIGTERM, LeaveNothing);
await Machine.Describe();

if (args is ["crash", .. var rest])
{
    return await CrashRun.Run(rest is [var kills] ? int.Parse(kills, CultureInfo.InvariantCulture) : 20);
}

var parts = args.Length == 0 ? ["start", "transitions", "feed", "import", "planning", "sequencing", "search"] : args;

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
        _ => throw new ArgumentException(
            $"There is no part '{part}'; there are start, transitions, feed, import, planning, sequencing, search."),
    });
}

return 0;

static void LeaveNothing(PosixSignalContext context)
{
    context.Cancel = true;
    RunningService.StopAll().Wait();
    BenchFolder.DeleteAll();
    Environment.Exit(130);
}
