using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Domain.Work;

namespace Releasekit.Domain.Tests;

/// <summary>Given what happened, when a command is decided, then these events follow, or this refusal.</summary>
internal sealed class Story<TState, TEvent>(Func<TState?, long, TEvent, TState> evolve)
    where TState : class
{
    private long _sequence;
    private Decision<TEvent>? _decision;

    /// <summary>The state after all that was given, and after what was decided once that was looked at.</summary>
    public TState? State { get; private set; }

    public Story<TState, TEvent> Given(params IEnumerable<TEvent> happened)
    {
        foreach (var e in happened)
        {
            State = evolve(State, ++_sequence, e);
        }

        return this;
    }

    public Story<TState, TEvent> When(Func<TState, Decision<TEvent>> decide)
    {
        _decision = decide(State!);
        return this;
    }

    public Story<TState, TEvent> Then(params TEvent[] expected)
    {
        Assert.Null(_decision!.Refusal);
        Assert.Equal(expected, _decision);
        return Given(expected);
    }

    public void ThenNothing() => Then();

    public void ThenRefused(string code, string? member = null)
    {
        Assert.Equal(code, _decision!.Refusal?.Code);
        Assert.Equal(member, _decision.Refusal!.Member);
        Assert.Empty(_decision);
        Assert.EndsWith(".", _decision.Refusal.Reason, StringComparison.Ordinal);
    }
}

/// <summary>Stories by what they are about.</summary>
internal static class Story
{
    public static Story<Release, ReleaseEvent> OfRelease => new(Release.Evolve);

    public static Story<Series, SeriesEvent> OfSeries => new(Series.Evolve);

    public static Story<Project, ProjectEvent> OfProject => new(Project.Evolve);
}
