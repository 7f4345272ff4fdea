namespace Releasekit.Server.Cluster;

/// <summary>Turns what PostgreSQL's programs wrote into the one sentence of a refusal.</summary>
internal static class ServerWords
{
    private static readonly string[] Grave = ["PANIC: ", "FATAL: ", "error: ", "setpriv: ", "ERROR: "];

    private static readonly string[] Full = ["No space left on device", "free disk space"];

    /// <param name="log">Where more can be read; null when there is no more.</param>
    public static StartRefusal Refuse(string what, string said, string? log = null) =>
        Full.Any(words => said.Contains(words, StringComparison.Ordinal))
            ? new($"{what}, for the disk is full: make room, or name another folder with --data.")
            : new($"{what}: {Gravest(said)}{(log is null ? "" : $"; more is in {log}")}.");

    /// <summary>The first grave line without its time stamp and prefix, or the last line of all.</summary>
    private static string Gravest(string said)
    {
        var lines = said.Split('\n', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        var line = lines.FirstOrDefault(line => Grave.Any(word => line.Contains(word, StringComparison.Ordinal)))
            ?? lines.LastOrDefault() ?? "it gave no reason";
        var at = Grave.Select(word => (At: line.IndexOf(word, StringComparison.Ordinal), word.Length))
            .Where(found => found.At >= 0).Select(found => found.At + found.Length).DefaultIfEmpty(0).First();
        return line[at..].Trim().TrimEnd('.');
    }
}
