namespace Releasekit.Domain.Statistics.Forecast;

/// <summary>What a forecast rests on.</summary>
public enum ForecastBasis
{
    /// <summary>Whole past releases, each equally likely to come again.</summary>
    PastReleases,

    /// <summary>Values stage by stage, each stage independent of the others.</summary>
    Stages,

    /// <summary>Three-point guesses, as there are too few past releases; stages independent of each other.</summary>
    Guesses,
}

/// <summary>How long stages may take, in working hours.</summary>
public sealed class WorkLaw
{
    /// <summary>Past releases below which nothing is forecast from them (common practice, no source).</summary>
    public const int FewestPast = 5;

    // A guess is no finer than this; and so many values are drawn as quickly as few.
    private const int PointsOfGuess = 512;

    private WorkLaw(ForecastBasis basis, IReadOnlyList<string> stages, double[][] samples, int past)
    {
        (Basis, Stages, Samples, Past) = (basis, stages, samples, past);
    }

    /// <summary>What it rests on; guesses are to be named as such.</summary>
    public ForecastBasis Basis { get; }

    /// <summary>Keys of the stages it knows.</summary>
    public IReadOnlyList<string> Stages { get; }

    /// <summary>How many past releases there are, also where they are too few to be used.</summary>
    public int Past { get; }

    /// <summary>Rows of past releases by stage; otherwise equally likely values of each stage.</summary>
    internal double[][] Samples { get; }

    /// <summary>
    /// The past where it has at least <see cref="FewestPast"/> releases, the guesses where each stage has one, and null
    /// otherwise: <see cref="Lack.TooFewPast"/>, show what there is.
    /// </summary>
    /// <param name="guesses">In any order; those of other stages are passed over.</param>
    public static WorkLaw? Choose(PastWork past, IReadOnlyList<StageGuess> guesses)
    {
        if (past.Rows.Count >= FewestPast)
        {
            return OfPast(past);
        }

        StageGuess?[] found =
            [.. past.Stages.Select(key => guesses.FirstOrDefault(guess => guess.Stage == key))];
        return found.Contains(null) ? null : new(
            ForecastBasis.Guesses,
            past.Stages,
            [
                .. found.Select(guess => Enumerable.Range(0, PointsOfGuess)
                    .Select(i => guess!.HoursAt((i + 0.5) / PointsOfGuess)).ToArray()),
            ],
            past.Rows.Count);
    }

    /// <summary>Whole past releases, however few; <see cref="Choose"/> asks whether they are enough.</summary>
    /// <exception cref="ArgumentException">There are none.</exception>
    public static WorkLaw OfPast(PastWork past)
    {
        Require(past.Rows.Count > 0, nameof(past));
        return new(
            ForecastBasis.PastReleases, past.Stages, [.. past.Rows.Select(row => row.ToArray())], past.Rows.Count);
    }

    /// <summary>Independent stages, each value of a stage equally likely.</summary>
    /// <param name="samples">Working hours by stage, at least one each.</param>
    /// <exception cref="ArgumentException">A stage has none.</exception>
    public static WorkLaw OfStages(IReadOnlyList<string> stages, IReadOnlyList<IReadOnlyList<double>> samples)
    {
        Require(samples.Count == stages.Count && samples.All(values => values.Count > 0), nameof(samples));
        return new(
            ForecastBasis.Stages, stages, [.. samples.Select(values => values.ToArray())],
            samples.Min(values => values.Count));
    }

    /// <summary>The index of a stage.</summary>
    /// <exception cref="ArgumentException">The law does not know it.</exception>
    internal int IndexOf(string key)
    {
        for (var i = 0; i < Stages.Count; i++)
        {
            if (Stages[i] == key)
            {
                return i;
            }
        }

        throw new ArgumentException($"Nothing is known of the work of '{key}'.", nameof(key));
    }

    private static void Require(bool isSo, string name)
    {
        if (!isSo)
        {
            throw new ArgumentException("There is nothing to draw from.", name);
        }
    }
}
