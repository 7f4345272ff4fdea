namespace Releasekit.Domain.Planning.Sequencing;

/// <summary>An order of pieces with its running sums, so that a change costs only the stretch it touches.</summary>
internal sealed class TardinessTrial
{
    private readonly int[] _order;
    private readonly long[] _lengths;
    private readonly long[] _dues;
    private readonly long[] _weights;

    /// <summary>Work and weighted tardiness before each position, all of it as the last.</summary>
    private readonly long[] _times;
    private readonly long[] _costs;

    public TardinessTrial(int[] order, long[] lengths, long[] dues, long[] weights)
    {
        (_order, _lengths, _dues, _weights) = (order, lengths, dues, weights);
        (_times, _costs) = (new long[order.Length + 1], new long[order.Length + 1]);
        Sum(0);
    }

    public long Cost => _costs[^1];

    /// <summary>Exchanges the pieces at two positions if that costs less; whether it did.</summary>
    public bool TryExchange(int from, int to)
    {
        var (time, cost) = (_times[from], 0L);
        Do(_order[to], ref time, ref cost);
        for (var at = from + 1; at < to && cost < Stretch(from, to); at++)
        {
            Do(_order[at], ref time, ref cost);
        }

        Do(_order[from], ref time, ref cost);
        if (cost >= Stretch(from, to))
        {
            return false;
        }

        (_order[from], _order[to]) = (_order[to], _order[from]);
        Sum(from);
        return true;
    }

    /// <summary>Moves the earlier piece behind the later if that costs less; whether it did.</summary>
    public bool TryMoveBack(int from, int to)
    {
        var (time, cost) = (_times[from], 0L);
        for (var at = from + 1; at <= to && cost < Stretch(from, to); at++)
        {
            Do(_order[at], ref time, ref cost);
        }

        Do(_order[from], ref time, ref cost);
        if (cost >= Stretch(from, to))
        {
            return false;
        }

        var moved = _order[from];
        Array.Copy(_order, from + 1, _order, from, to - from);
        _order[to] = moved;
        Sum(from);
        return true;
    }

    /// <summary>Moves the later piece before the earlier if that costs less; whether it did.</summary>
    public bool TryMoveForward(int from, int to)
    {
        var (time, cost) = (_times[from], 0L);
        Do(_order[to], ref time, ref cost);
        for (var at = from; at < to && cost < Stretch(from, to); at++)
        {
            Do(_order[at], ref time, ref cost);
        }

        if (cost >= Stretch(from, to))
        {
            return false;
        }

        var moved = _order[to];
        Array.Copy(_order, from, _order, from + 1, to - from);
        _order[from] = moved;
        Sum(from);
        return true;
    }

    private long Stretch(int from, int to) => _costs[to + 1] - _costs[from];

    private void Do(int piece, ref long time, ref long cost)
    {
        time += _lengths[piece];
        cost += _weights[piece] * Math.Max(0, time - _dues[piece]);
    }

    private void Sum(int from)
    {
        for (var at = from; at < _order.Length; at++)
        {
            (_times[at + 1], _costs[at + 1]) = (_times[at], _costs[at]);
            Do(_order[at], ref _times[at + 1], ref _costs[at + 1]);
        }
    }
}
