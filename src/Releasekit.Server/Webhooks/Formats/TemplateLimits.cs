using Fluid;

namespace Releasekit.Server.Webhooks.Formats;

/// <summary>
/// How much a template may take. Steps alone are no limit: one step can copy a text into itself, and twenty of those
/// fill the memory.
/// </summary>
internal sealed class TemplateLimits(TimeProvider time)
{
    /// <summary>Statements that are run, those of loops each time.</summary>
    public const int Steps = 1_000;

    /// <summary>So long a template may be, in characters.</summary>
    public const int LongestSource = 10_000;

    /// <summary>So long any value may become on the way, in characters.</summary>
    public const int LongestValue = 16_384;

    private const string Key = "limits";

    /// <summary>Ample for what fits into the steps; the first template also pays for starting the library.</summary>
    private static readonly TimeSpan LongestTime = TimeSpan.FromSeconds(2);

    private readonly long _began = time.GetTimestamp();

    public static TemplateLimits BudgetOf(TemplateContext context) => (TemplateLimits)context.AmbientValues[Key];

    public void Govern(TemplateContext context) => context.AmbientValues[Key] = this;

    /// <exception cref="TemplateLimitException">The time is up.</exception>
    public void CheckTime()
    {
        if (time.GetElapsedTime(_began) > LongestTime)
        {
            throw new TemplateLimitException($"The template takes longer than {LongestTime.TotalSeconds} seconds.");
        }
    }

    /// <exception cref="TemplateLimitException">A value is, or would be, too long.</exception>
    public static void CheckLength(long length)
    {
        if (length > LongestValue)
        {
            throw new TemplateLimitException($"A value in the template becomes longer than {LongestValue} characters.");
        }
    }
}

/// <summary>A template takes more than it may; the message is for its owner.</summary>
internal sealed class TemplateLimitException(string message) : Exception(message);
