using System.Threading.Channels;

namespace Releasekit.Server.Imports;

/// <summary>A series that has imports to be carried out.</summary>
internal readonly record struct ImportedSeries(string Publisher, string Series);

/// <summary>Whose turn it is: series one after the other, however long the imports of each are.</summary>
internal sealed class ImportTurns(TimeProvider time)
{
    private readonly Lock _gate = new();
    private readonly List<(ImportedSeries Series, long From)> _line = [];
    private readonly Channel<bool> _added = Channel.CreateBounded<bool>(
        new BoundedChannelOptions(1) { FullMode = BoundedChannelFullMode.DropWrite });

    /// <summary>Puts a series at the end of the line; one that stands there already keeps its place.</summary>
    /// <param name="wait">How long it is passed over.</param>
    public void Add(ImportedSeries series, TimeSpan wait = default)
    {
        var from = time.GetTimestamp() + (long)(wait.TotalSeconds * time.TimestampFrequency);

        lock (_gate)
        {
            if (_line.FindIndex(turn => turn.Series == series) is >= 0 and var place)
            {
                _line[place] = (series, Math.Min(from, _line[place].From));
            }
            else
            {
                _line.Add((series, from));
            }
        }

        _added.Writer.TryWrite(true);
    }

    /// <summary>
    /// The first series in line that is not passed over, taken out of the line; null when there is none.
    /// </summary>
    public ImportedSeries? Next()
    {
        lock (_gate)
        {
            var now = time.GetTimestamp();

            if (_line.FindIndex(turn => turn.From <= now) is not (>= 0 and var place))
            {
                return null;
            }

            var series = _line[place].Series;
            _line.RemoveAt(place);
            return series;
        }
    }

    /// <summary>Waits until there may be a next one, <paramref name="most"/> at the longest.</summary>
    public async Task Wait(TimeSpan most, CancellationToken cancel)
    {
        using var waiting = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        waiting.CancelAfter(Shortest(most));

        try
        {
            await _added.Reader.ReadAsync(waiting.Token);
        }
        catch (OperationCanceledException) when (!cancel.IsCancellationRequested)
        {
        }
    }

    private TimeSpan Shortest(TimeSpan most)
    {
        lock (_gate)
        {
            var now = time.GetTimestamp();
            return _line
                .Select(turn => turn.From <= now ? TimeSpan.Zero : time.GetElapsedTime(now, turn.From))
                .Append(most)
                .Min();
        }
    }
}
