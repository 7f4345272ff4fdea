namespace Releasekit.Server.Clock;

/// <summary>
/// What time it is for the service: the machine's clock, or for rehearsals one
/// that starts elsewhere and runs at another rate. Whole milliseconds, so that
/// what is stored, shown and compared is the same instant.
/// </summary>
internal sealed class ServiceClock(TimeProvider machine, ClockOptions options)
{
    private readonly Lock _gate = new();
    private Instant _startedAt = Instant.FromDateTimeOffset(machine.GetUtcNow());
    private Instant _start = options.Start ?? Instant.FromDateTimeOffset(machine.GetUtcNow());
    private double _rate = options.Rate;

    /// <summary>Now, UTC.</summary>
    public Instant Now
    {
        get
        {
            lock (_gate)
            {
                return (_start + ((Instant.FromDateTimeOffset(machine.GetUtcNow()) - _startedAt) * _rate)).Cut();
            }
        }
    }

    /// <summary>Whether it differs from the machine's clock; the start of the service says so.</summary>
    public bool IsRehearsal => options.Start is not null || options.Rate is not 1;

    /// <summary>How long the machine takes for what is <paramref name="elapsed"/> here.</summary>
    public TimeSpan ToMachine(Duration elapsed)
    {
        lock (_gate)
        {
            return (elapsed / RateToReckon).ToTimeSpan();
        }
    }

    /// <summary>
    /// When it is <paramref name="at"/> here, by the machine's clock: the millisecond after, so that who waits for it
    /// does not find it still to come.
    /// </summary>
    public DateTimeOffset ToMachine(Instant at)
    {
        lock (_gate)
        {
            var machine = _startedAt + ((at - _start) / RateToReckon);
            return DateTimeOffset.FromUnixTimeMilliseconds(machine.ToUnixTimeMilliseconds() + 1);
        }
    }

    /// <summary>What it is here when the machine's clock shows <paramref name="at"/>.</summary>
    public Instant ToService(DateTimeOffset at)
    {
        lock (_gate)
        {
            return (_start + ((Instant.FromDateTimeOffset(at) - _startedAt) * RateToReckon)).Cut();
        }
    }

    /// <summary>A clock that stands still is reckoned with as if it went on.</summary>
    private double RateToReckon => _rate == 0 ? 1 : _rate;

    /// <summary>Stands still at <paramref name="instant"/>: how a past is told, step by step.</summary>
    public void StandAt(Instant instant)
    {
        lock (_gate)
        {
            (_start, _startedAt, _rate) = (instant, Instant.FromDateTimeOffset(machine.GetUtcNow()), 0);
        }
    }

    /// <summary>Goes on as configured after it stood still.</summary>
    public void GoOn()
    {
        lock (_gate)
        {
            _startedAt = Instant.FromDateTimeOffset(machine.GetUtcNow());
            (_start, _rate) = (options.Start ?? _startedAt, options.Rate);
        }
    }
}

/// <summary>Settings <c>Clock__Start</c> (an instant, RFC 3339) and <c>Clock__Rate</c> (seconds a second).</summary>
internal sealed record ClockOptions(Instant? Start = null, double Rate = 1);
