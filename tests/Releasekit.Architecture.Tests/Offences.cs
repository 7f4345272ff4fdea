namespace Releasekit.Architecture.Tests;

/// <summary>Tells every offence, each on a line of its own: a list shortened to its beginning helps nobody.</summary>
internal static class Offences
{
    public static void None(IEnumerable<string> found)
    {
        string[] offences = [.. found];
        Assert.True(offences.Length == 0, $"{offences.Length} offences:\n{string.Join('\n', offences)}");
    }
}
