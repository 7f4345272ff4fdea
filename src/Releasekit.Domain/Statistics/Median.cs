namespace Releasekit.Domain.Statistics;

/// <summary>The middle value; of an even number of values, the mean of the middle two (R's <c>median</c>).</summary>
internal static class Median
{
    /// <summary>The median; null when there are no values. Changes the order of <paramref name="values"/>.</summary>
    internal static double? Of(Span<double> values)
    {
        if (values.IsEmpty)
        {
            return null;
        }

        var middle = values.Length / 2;
        var upper = Select(values, middle);
        if (values.Length % 2 == 1)
        {
            return upper;
        }

        // Selection leaves everything not above the chosen value in front of it.
        var lower = double.NegativeInfinity;
        foreach (var value in values[..middle])
        {
            lower = Math.Max(lower, value);
        }

        return lower + (upper - lower) / 2;
    }

    /// <summary>
    /// The value of a rank, from 0, by Hoare's selection: linear, where sorting the two million slopes of a long
    /// history would be felt. Puts no larger values in front of it and no smaller ones behind.
    /// </summary>
    internal static double Select(Span<double> values, int rank)
    {
        var (low, high) = (0, values.Length - 1);
        while (low < high)
        {
            var pivot = values[low + (high - low) / 2];
            var (left, right) = (low, high);
            while (left <= right)
            {
                while (values[left] < pivot)
                {
                    left++;
                }

                while (values[right] > pivot)
                {
                    right--;
                }

                if (left <= right)
                {
                    (values[left], values[right]) = (values[right], values[left]);
                    (left, right) = (left + 1, right - 1);
                }
            }

            (low, high) = rank <= right ? (low, right) : rank >= left ? (left, high) : (rank, rank);
        }

        return values[rank];
    }
}
