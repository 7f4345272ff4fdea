using Releasekit.Server.Demo;

namespace Releasekit.Server.Startup;

/// <summary>The few lines a start prints: token (once), what to open, what to try next, and that it is ready.</summary>
internal sealed record Welcome(
    string Address, string TokenFile, string? NewToken, ServiceSettings Settings, bool IsRehearsal)
{
    private static readonly string DemoSight = $"series/{DemoStory.Series}/cadence";

    public void Say()
    {
        foreach (var line in Lines())
        {
            Console.WriteLine(line);
        }
    }

    /// <summary>In the order they are printed; the last one says that it is ready.</summary>
    public IEnumerable<string> Lines()
    {
        if (IsRehearsal)
        {
            yield return "rehearsal: the clock is set by Clock__Start or Clock__Rate";
        }

        if (Settings.IsDemo)
        {
            yield return "demo     Mudflat Audio, an invented publisher with a year and a half behind it";
        }

        if (NewToken is not null)
        {
            yield return $"token    {NewToken}   (shown once; kept in {TokenFile})";
        }

        yield return $"open     {Address}/docs";
        yield return $"try      auth=\"Authorization: Bearer $(cat {Quoted(TokenFile)})\"";
        yield return $"         curl -sH \"$auth\" {Address}/v1/{(Settings.IsDemo ? DemoSight : "series")}";

        if (Settings.IsDemo)
        {
            yield return $"calendar curl -sH \"$auth\" --json '{{\"name\":\"phone\"}}' {Address}/v1/feeds";
        }

        yield return $"ready {Address}";
    }

    /// <summary>As a shell reads it: a folder may have a blank in its name.</summary>
    private static string Quoted(string path) => path.All(IsPlain)
        ? path
        : $"'{path.Replace("'", "'\\''", StringComparison.Ordinal)}'";

    private static bool IsPlain(char c) => char.IsAsciiLetterOrDigit(c) || c is '/' or '.' or '-' or '_';
}
