namespace Releasekit.Domain.Planning;

/// <summary>The normal distribution with mean 0 and deviation 1.</summary>
internal static class StandardNormal
{
    private const double Beyond = 8;

    /// <summary>
    /// The probability of a value up to <paramref name="z"/>, 0 to 1:
    /// <c>1/2 + φ(z)·(z + z³/3 + z⁵/(3·5) + …)</c> (Marsaglia 2004, Evaluating the normal distribution); absolute error
    /// near 1e-15.
    /// </summary>
    public static double UpTo(double z)
    {
        if (Math.Abs(z) > Beyond)
        {
            return z < 0 ? 0 : 1;
        }

        var (sum, before, term) = (z, 0.0, z);
        for (var odd = 3; sum != before; odd += 2)
        {
            before = sum;
            term *= z * z / odd;
            sum += term;
        }

        return 0.5 + sum * Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);
    }
}
