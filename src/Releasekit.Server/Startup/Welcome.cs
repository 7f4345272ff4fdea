namespace Releasekit.Server.Startup;

/// <summary>The few lines a start prints: address, token (once), what to open, what to try next, and that it is ready.</summary>
internal sealed record Welcome(string Address, string TokenFile, string? NewToken, ServiceSettings Settings, bool IsRehearsal)
{
    public void Say()
    {
        if (IsRehearsal)
        {
            Console.WriteLine("rehearsal: the clock is set by Clock__Start or Clock__Rate");
        }

        if (NewToken is not null)
        {
            Console.WriteLine($"token    {NewToken}   (shown once; kept in {TokenFile})");
        }

        Console.WriteLine($"docs     {Address}/docs");
        Console.WriteLine($"try      curl -H \"Authorization: Bearer $(cat {TokenFile})\" {Address}/v1/series");
        Console.WriteLine($"ready {Address}");
    }
}
