using System.Text.Json;
using System.Text.Json.Serialization;
using Refit;

namespace Releasekit.Client;

/// <summary>Takes an answer apart.</summary>
public static class ReleasekitAnswers
{
    /// <summary>The body of a good answer.</summary>
    /// <exception cref="ReleasekitProblemException">The service answered a problem.</exception>
    public static async Task<T> Value<T>(this Task<IApiResponse<T>> call)
    {
        var answer = await call.ConfigureAwait(false);
        return answer.IsSuccessStatusCode && answer.Content is { } value
            ? value : throw new ReleasekitProblemException(answer.Problem());
    }

    /// <summary>The ETag of an answer, quoted as it goes into If-Match; null when it has none.</summary>
    public static string? ETag(this IApiResponse answer) => answer.Headers?.ETag?.ToString();

    /// <summary>What went wrong.</summary>
    public static ReleasekitProblem Problem(this IApiResponse answer)
    {
        // A good answer may be one that this client cannot read; its body is no problem then.
        var text = answer.IsSuccessStatusCode ? null : (answer.Error as ApiException)?.Content;

        return string.IsNullOrEmpty(text)
            ? new ReleasekitProblem(string.Empty, $"{answer.StatusCode}", (int)(answer.StatusCode ?? 0),
                answer.Error?.Message ?? string.Empty)
            : JsonSerializer.Deserialize<ReleasekitProblem>(text, ReleasekitJson.Options)!;
    }
}

/// <summary>A problem as the service tells it (RFC 9457).</summary>
/// <param name="Type">Names the kind of problem; ends with its code.</param>
/// <param name="Detail">What is wrong, and what would be right.</param>
/// <param name="Errors">Each fault with its place; null when there are none in particular.</param>
public sealed record ReleasekitProblem(
    string Type, string Title, int Status, string Detail, IReadOnlyList<ReleasekitProblemError>? Errors = null)
{
    /// <summary>The code at the end of <see cref="Type"/>, e.g. <c>slot.taken</c>.</summary>
    public string Code => Type.Split('/')[^1];
}

/// <summary>One fault.</summary>
/// <param name="Place">JSON pointer into the body, or the name of a query parameter.</param>
public sealed record ReleasekitProblemError([property: JsonPropertyName("pointer")] string Place, string Detail);

/// <summary>The service answered a problem.</summary>
public sealed class ReleasekitProblemException(ReleasekitProblem problem) : Exception(
    $"{problem.Status} {problem.Title}: {problem.Detail}")
{
    /// <summary>What was answered.</summary>
    public ReleasekitProblem Problem { get; } = problem;
}

/// <summary>One page of a list.</summary>
/// <param name="Next">The cursor of the next page; null on the last.</param>
public sealed record Page<T>(IReadOnlyList<T> Items, string? Next);
