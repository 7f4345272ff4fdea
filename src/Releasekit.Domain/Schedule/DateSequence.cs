namespace Releasekit.Domain.Schedule;

/// <summary>
/// The dates of a rule, remembered as far as anybody has asked. Ascending, each once; safe to ask from several threads.
/// Asking again costs a binary search.
/// </summary>
/// <param name="source">Ascending, each date once; read once, lazily, and never past <paramref name="most"/>.</param>
/// <param name="most">How many dates are remembered at most; the sequence ends there.</param>
internal sealed class DateSequence(IEnumerable<LocalDate> source, int most)
{
    private const int Chunk = 64;

    private readonly IEnumerator<LocalDate> _source = source.GetEnumerator();
    private readonly object _reading = new();
    private volatile Known _known = new([], HasEnded: false);

    /// <summary>The dates from <paramref name="from"/>, included, to <paramref name="to"/>, excluded.</summary>
    internal IReadOnlyList<LocalDate> Between(LocalDate from, LocalDate to)
    {
        if (to <= from)
        {
            return [];
        }

        var dates = KnownPast(to);
        var first = IndexFrom(dates, from);
        return new ArraySegment<LocalDate>(dates, first, IndexFrom(dates, to) - first);
    }

    /// <summary>Whether <paramref name="date"/> is one of the dates.</summary>
    internal bool Contains(LocalDate date) => Array.BinarySearch(KnownPast(date), date) >= 0;

    /// <summary>The first date later than <paramref name="date"/>; null when there is none.</summary>
    internal LocalDate? After(LocalDate date)
    {
        var dates = KnownPast(date);
        var found = Array.BinarySearch(dates, date);
        var next = found >= 0 ? found + 1 : ~found;
        return next < dates.Length ? dates[next] : null;
    }

    /// <summary>The last date earlier than <paramref name="date"/>; null when there is none.</summary>
    internal LocalDate? Before(LocalDate date)
    {
        var dates = KnownPast(date);
        var index = IndexFrom(dates, date);
        return index > 0 ? dates[index - 1] : null;
    }

    /// <summary>The first dates, as many as asked or as there are.</summary>
    internal IReadOnlyList<LocalDate> First(int count)
    {
        var dates = Read(known => known.HasEnded || known.Dates.Length >= count);
        return new ArraySegment<LocalDate>(dates, 0, Math.Min(count, dates.Length));
    }

    private static int IndexFrom(LocalDate[] dates, LocalDate date)
    {
        var found = Array.BinarySearch(dates, date);
        return found >= 0 ? found : ~found;
    }

    private LocalDate[] KnownPast(LocalDate date) =>
        Read(known => known.HasEnded || (known.Dates.Length > 0 && known.Dates[^1] > date));

    private LocalDate[] Read(Func<Known, bool> suffices)
    {
        if (suffices(_known))
        {
            return _known.Dates;
        }

        lock (_reading)
        {
            while (!suffices(_known))
            {
                _known = Longer(_known.Dates);
            }

            return _known.Dates;
        }
    }

    // Growing by a share of what is known keeps the copying proportional to the dates read.
    private Known Longer(LocalDate[] dates)
    {
        var wanted = Math.Min(most, dates.Length + Math.Max(Chunk, dates.Length / 2));
        var longer = new List<LocalDate>(dates) { Capacity = wanted };
        while (longer.Count < wanted && _source.MoveNext())
        {
            longer.Add(_source.Current);
        }

        return new Known([.. longer], HasEnded: longer.Count < wanted || longer.Count == most);
    }

    private sealed record Known(LocalDate[] Dates, bool HasEnded);
}
