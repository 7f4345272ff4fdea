namespace Releasekit.Server.Docs;

/// <summary>What each figure says, in the order a month is looked back on.</summary>
internal static class StatisticsTexts
{
    public const string Lead =
        "Every figure comes with how many values it rests on and with an interval that would hold the truth in 95 of "
        + "100 "
        + "cases; where one cannot be known it is empty and says why. The numbers here are those of the demo, a weekly "
        + "series of a year and a half, on 25 November 2026.";

    public static readonly ExplainedFigure[] All =
    [
        new("promise", "The promise", "GET /v1/series/{series}/cadence",
            [
                "Of {due} slots that came due in a year, {onTime} were kept: {onTimeRate}. So few slots cannot tell "
                + "that "
                + "from anything between {onTimeLow} and {onTimeHigh}: a difference inside that band is none.",
                "Half of what was published came within {late50} of its slot, 95 of 100 within {late95}. The streak of "
                + "kept slots is {streak} now and was {longest} at its longest; slots in a break neither lengthen nor "
                + "break it.",
                "Gaps between publications vary by {gapCv} of their length (0 is clockwork), and the drift says "
                + "whether "
                + "publication slips: here {drift} a slot.",
            ],
            "Interval: Wilson 1927; Newcombe 1998. Drift: Theil 1950, Sen 1968. Matching of publications and slots: as "
            + "many pairs as possible, then the least distance; checked against SciPy's assignment."),
        new("times", "How long it takes", "GET /v1/series/{series}/flow",
            [
                "Lead time runs from the day a release is planned to its publication, cycle time from the first start "
                + "of a stage. Of {finished} published releases, half took no more than {cycle50} in the making, 85 of "
                + "100 no more than {cycle85}; planned they were {lead50} before.",
                "A percentile is always a time that really occurred. Its interval needs no bell curve: it is read off "
                + "the ranks. With fewer than 23 releases nothing above can be excluded at 85 %, with fewer than 72 at "
                + "95 %, and then the upper end is empty: \"longer than anything seen cannot be excluded\".",
                "What is still open counts too: a release that has been going on for a month has not taken a month. "
                + "The "
                + "curve of Kaplan and Meier takes it as \"longer than that\", where leaving it out would flatter.",
                "Elapsed days are hours divided by 24; inclusive days count the first and the last date.",
            ],
            "The Kanban Guide, May 2025 (terms of flow). Percentiles: Hyndman and Fan 1996, type 1; intervals from the "
            + "binomial law (Conover). Kaplan and Meier 1958, Greenwood 1926, Brookmeyer and Crowley 1982."),
        new("flow", "What is under way", "GET /v1/series/{series}/flow",
            [
                "On average {wip} releases were under way at once, and {throughput} a week were finished. Little's law "
                + "ties the three together: under way = finished a day × days each. Over a window it misses by what "
                + "was "
                + "open at its ends, here {gap}; the releases that carry the gap are listed, and the usual cause is "
                + "one "
                + "that was forgotten.",
                "Flow efficiency is working time over working and waiting time: {efficiency} from {efficiencyN} "
                + "releases of which all starts are known. A stage that is only ticked, never started, tells no "
                + "working "
                + "time, and its release is left out rather than guessed at.",
                "The cumulative flow counts, at the end of each day, how many releases had come how far; the distance "
                + "between two lines is what lies between those stages.",
            ],
            "Little 1961; Little and Graves 2008, and the sample-path form. Cochran 1977 for the interval of a ratio "
            + "(from memory)."),
        new("chart", "Whether something changed", "GET /v1/series/{series}/chart",
            [
                "Cycle times differ from one release to the next without any reason worth asking for. The chart draws "
                + "the limits of that: here {chartMean} on average, and nothing above {chartUpper} to be expected. "
                + "{signals} points or runs stand out by one of the four rules; each is worth a question, not a "
                + "verdict, "
                + "as durations are skewed and false alarms come more often than in a normal law.",
                "Limits rest on the first {baseline} releases of a way of working and then stay. They begin anew where "
                + "the cadence or the stage plan changed, or where you say so.",
            ],
            "Limits of single values and moving ranges with exact constants: NIST/SEMATECH e-Handbook 6.3.2.2; "
            + "Montgomery. Rules: Wheeler and Chambers, the Western Electric zone tests."),
        new("forecast", "When it will be done", "GET /v1/series/{series}/forecast, GET /v1/releases/{id}/forecast",
            [
                "Ten thousand times a past release is drawn for each open one, whole, as a release that is long in one "
                + "stage is often long in others; what was begun takes only what is longer than it has taken already. "
                + "One person does one thing after another, in the working hours that are left. And nothing is ready "
                + "sooner than the drawn release was by its own pace, because nobody works without a pause: without "
                + "that, "
                + "such a forecast is far too early.",
                "The next open release of the demo: \"{says}\" Worked at without a pause it would be {nonstop}.",
                "Where a stage is only ticked, it is taken to have begun at the tick before it in its release; that is "
                + "so in {startsTaken} of the {past} releases the demo is forecast from. Where fewer than five "
                + "releases "
                + "are past, the guesses of the stage plan are drawn from, and the forecast says so.",
            ],
            "Resampling of whole cases: Efron and Tibshirani 1993. Random numbers: SplitMix64 (Steele, Lea and Flood "
            + "2014). The error of the simulation, √(p(1 - p)/N), is told with each probability; that of few past "
            + "releases weighs far more."),
        new("calibration", "Whether the forecasts were right", "GET /v1/series/{series}/calibration",
            [
                "Each day's forecast is kept as it was told. A week before the slot the demo's releases were said to "
                + "meet it with {told7} on average; {came7} of {n7} did. Score 0 would be foresight, and always saying "
                + "the usual rate gets {uncertainty7}; here it is {score7}.",
                "Dates told with 85 % held for {hit85} of the releases, those told with 50 % for {hit50}.",
            ],
            "Brier 1950 in today's form; Murphy 1973 for its parts; Stephenson, Coelho and Jolliffe 2008 for tables in "
            + "bins; Wilson's interval."),
        new("bank", "How big the bank must be", "GET /v1/series/{series}/bank",
            [
                "\"{bankSays}\" A release takes {work50} of the demo's working week when nothing else is in the "
                + "making, "
                + "and one is promised every {slotDays} days: the work takes up {load} of the time.",
                "Three questions, three exact answers: how far today's bank carries; how much must be finished or in "
                + "work when late is late; how big a bank must be when a missed slot is lost. The last goes by what "
                + "really became ready from slot to slot, with all that comes between: there {lostNeeded} are needed.",
            ],
            "Lindley 1952 (waiting of one server); stationary chains by Grassmann, Taksar and Heyman 1985 (from "
            + "memory); "
            + "Hillier and Lieberman's store as the check of the solver; paths counted exactly."),
        new("timeliness", "Whether work fills its time", "GET /v1/projects/timeliness",
            [
                "Of the field recordings of the demo {exact} took exactly the planned effort, {under} no more than it; "
                + "half took up to {ratio} of it. A heap just below what was planned is the trace of work that fills "
                + "its "
                + "time, or of a plan that was written into the log: the figures cannot tell which.",
                "For a new project the past ratios say what finish-by date so many of a hundred would have kept; with "
                + "fewer than five finished projects nothing is suggested.",
            ],
            "Sign test: Zar, Biostatistical Analysis (from memory); mean logarithm instead of a percentage error, "
            + "which "
            + "rewards low promises (Tofallis 2015)."),
    ];
}
