using System.Globalization;
using System.Text.Json;

namespace Releasekit.Domain.Tests;

/// <summary>A case of a file in Checks/: inputs, expected values, and where those come from.</summary>
public sealed class CheckCase
{
    private readonly JsonElement _case;

    private CheckCase(JsonElement element) => _case = element;

    public string Id => _case.GetProperty("id").GetString()!;

    public string Source => _case.TryGetProperty("source", out var source)
        ? source.GetString()!
        : "independent program over " + _case.GetProperty("file").GetString();

    public JsonElement Inputs => _case.GetProperty("inputs");

    public JsonElement Expected => _case.GetProperty("expected");

    public double Tolerance => _case.GetProperty("tolerance").GetDouble();

    /// <summary>The values as the source prints them; null when it prints none.</summary>
    public JsonElement? Published => _case.TryGetProperty("published", out var published) ? published : null;

    public string History => _case.GetProperty("file").GetString()!;

    /// <summary>Rows for a theory: the id, and the source to be seen beside it.</summary>
    public static TheoryData<string, string> Rows(string file, string prefix)
    {
        var rows = new TheoryData<string, string>();
        foreach (var check in Read(file).Where(check => check.Id.StartsWith(prefix, StringComparison.Ordinal)))
        {
            rows.Add(check.Id, check.Source);
        }

        return rows;
    }

    public static CheckCase Find(string file, string id) => Read(file).Single(check => check.Id == id);

    public static string PathOf(string file) => Path.Combine(AppContext.BaseDirectory, "Checks", file);

    /// <summary>Equal within the case's tolerance; JSON null must be null.</summary>
    public void AssertNear(JsonElement expected, double? actual)
    {
        if (expected.ValueKind == JsonValueKind.Null)
        {
            Assert.Null(actual);
            return;
        }

        Assert.NotNull(actual);
        Assert.InRange(actual.Value, expected.GetDouble() - Tolerance, expected.GetDouble() + Tolerance);
    }

    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"{Id} ({Source})");

    private static IEnumerable<CheckCase> Read(string file)
    {
        using var stream = File.OpenRead(PathOf(file));
        return [.. JsonDocument.Parse(stream).RootElement.EnumerateArray().Select(element => new CheckCase(element))];
    }
}

/// <summary>Reading check values.</summary>
public static class CheckValues
{
    public static double[] Numbers(this JsonElement element, string name) =>
        [.. element.GetProperty(name).EnumerateArray().Select(item => item.GetDouble())];

    public static string[] Strings(this JsonElement element, string name) =>
        [.. element.GetProperty(name).EnumerateArray().Select(item => item.GetString()!)];

    public static double Number(this JsonElement element, string name) => element.GetProperty(name).GetDouble();

    public static string Text(this JsonElement element, string name) => element.GetProperty(name).GetString()!;
}
