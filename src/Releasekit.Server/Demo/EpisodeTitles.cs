namespace Releasekit.Server.Demo;

/// <summary>What the invented series is about, week by week.</summary>
internal static class EpisodeTitles
{
    private static readonly string[] Titles =
    [
        "The hour the curlews come back", "What a mudflat weighs", "Lugworms, by torchlight",
        "The tide table on the kitchen wall",
        "Salt on the microphone", "Walking out with the shrimp net", "A channel that moved overnight",
        "The sound of the bore",
        "Eelgrass, counted by hand", "Fog over the ferry slip", "Oysters and their clicks",
        "The causeway at half past five",
        "A winter of brent geese", "Where the river forgets its name", "The last salt pan", "Ragworm weather",
        "Spring tide, neap tide", "The pilot who knew the bar", "Cockles under the frost",
        "The marsh that drank a road",
        "Listening below the jetty", "A heron's morning", "Silt, and how it travels", "The lock keeper's notebook",
        "Sea lavender in August", "What the dredger took", "The ringing hide", "Knots, ten thousand of them",
        "A bridge that hums", "The smell before rain", "Samphire with Inês", "The buoy at the third bend",
        "Eels go home", "The quiet of slack water", "Mussel beds after the storm", "How to read ripples",
        "The dyke, seen from inside", "Redshank alarm", "A map drawn in pencil", "The tide mill's wheel",
        "Night herons in the harbour", "Crabs on the slipway", "The boatyard in November", "What the cores remember",
        "Terns on the shell bank", "The longest low water", "Sand gets everywhere", "The estuary at full moon",
        "Bait diggers", "The pier that is not there", "Glasswort and other greens", "The ferry's last winter",
        "A hydrophone in the creek", "Plovers on the playing field", "The drowned orchard", "Mud, a love letter",
        "The harbour seal's nap", "Where the nets were mended", "Ice on the saltmarsh", "The children's tide gauge",
        "Spoonbills, one at a time", "The culvert under the station", "Old charts, new channels", "A kayak at dawn",
        "The noise of shipping", "Goby, shanny, blenny", "The reed cutters", "Rain on the estuary",
        "The otter that came by day", "Six metres of peat", "What the gulls follow", "The island at low water",
        "Counting by moonlight", "The breach, ten years on", "A cork float from Setúbal", "The names of the winds",
        "Brine and batteries", "The weir that sings", "Turnstones", "Two rivers, one mouth",
        "The shell that whistles", "The night the sluice stuck", "Driftwood, catalogued", "The warden's round",
    ];

    /// <summary>The title of an episode, counting from 1; each once, and in parts after the last.</summary>
    public static string Of(int number) => number <= Titles.Length
        ? $"No. {number}: {Titles[number - 1]}"
        : $"No. {number}: {Titles[(number - 1) % Titles.Length]}, again";
}
