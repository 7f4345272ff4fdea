using System.Text.Json;
using System.Text.RegularExpressions;
using Releasekit.Server.Sheets;
using Releasekit.Server.Store;

namespace Releasekit.Server.Http;

/// <summary>
/// Turns whatever goes wrong into a problem: what the framework refuses, what has no body, and our own defects.
/// </summary>
internal sealed partial class ErrorAnswers(RequestDelegate next, ILogger<ErrorAnswers> log)
{
    public async Task InvokeAsync(HttpContext http)
    {
        try
        {
            await next(http);
        }
        catch (OperationCanceledException) when (http.RequestAborted.IsCancellationRequested)
        {
            return;
        }
        catch (Exception e) when (!http.Response.HasStarted)
        {
            http.Response.Clear();
            await ProblemWriter.Write(http, ProblemOf(e, http));
            return;
        }

        if (!http.Response.HasStarted && http.Response.ContentLength is null && http.Response.ContentType is null
            && ProblemOf(http) is { } problem)
        {
            await ProblemWriter.Write(http, problem);
        }
    }

    private static Problem? ProblemOf(HttpContext http) => http.Response.StatusCode switch
    {
        StatusCodes.Status404NotFound => Problems.Of("not-found", "Nothing of yours is at this address."),
        StatusCodes.Status405MethodNotAllowed => Problems.Of(
            "method-not-allowed", $"This address takes {http.Response.Headers.Allow}."),
        StatusCodes.Status415UnsupportedMediaType => BodyGuard.Unsupported(http),
        _ => null,
    };

    private Problem ProblemOf(Exception e, HttpContext http)
    {
        switch (e)
        {
            case BadHttpRequestException { StatusCode: StatusCodes.Status413PayloadTooLarge }:
                return Problems.Of("too-large", "The body is larger than is taken here: 1 MiB, for imports 64 MiB.");
            case BadHttpRequestException { StatusCode: StatusCodes.Status415UnsupportedMediaType }:
                return BodyGuard.Unsupported(http);
            case BadHttpRequestException { InnerException: JsonException json }:
                return MalformedJson.Problem(json);
            case JsonException json:
                return MalformedJson.Problem(json);
            case BadHttpRequestException bad:
                return Unbound(bad);
            case var _ when Outage.IsCauseOf(e):
                LogUnavailable(log, e);
                return Problems.Of(
                    "unavailable",
                    "The database does not answer; whether anything was changed is not certain. Repeat the request in "
                    + "a moment, a POST with the Idempotency-Key it was first sent with.");
            default:
                LogDefect(log, e, http.Request.Method);
                return Problems.Of("defect", "Something broke here; the log of the service says more.");
        }
    }

    /// <summary>A parameter that could not be bound; the framework's message is the only place that names it.</summary>
    private static Problem Unbound(BadHttpRequestException bad)
    {
        if (UnboundParameter().Match(bad.Message) is { Success: true } match)
        {
            var name = JsonNamingPolicy.CamelCase.ConvertName(match.Groups["name"].Value);
            var right = RightFor(match.Groups["type"].Value);
            return Problems.Of("query-invalid", $"'{name}' takes {right}.", new ProblemError(name, $"Takes {right}."));
        }

        return MissingParameter().Match(bad.Message) is { Success: true } missing
            ? Problems.Of("query-invalid", $"The parameter '{missing.Groups["name"].Value}' is needed.")
            : Problems.Of("malformed", bad.Message.Contains("body", StringComparison.OrdinalIgnoreCase)
                ? "A JSON body is needed here; there is none that can be read."
                : bad.Message);
    }

    private static string RightFor(string type) => type switch
    {
        _ when type.Contains(nameof(DateParameter), StringComparison.Ordinal) => "a date such as 2026-03-05",
        _ when type.Contains(nameof(InstantParameter), StringComparison.Ordinal) =>
            "an instant such as 2026-03-05T03:00:00Z",
        _ when type.Contains(nameof(MonthParameter), StringComparison.Ordinal) => "a month such as 2026-03",
        _ when type.Contains(nameof(WeekParameter), StringComparison.Ordinal) => "an ISO week such as 2026-W10",
        _ when type.Contains(nameof(YearParameter), StringComparison.Ordinal) => "a year from 1970 to 2199",
        _ when type.Contains("int", StringComparison.OrdinalIgnoreCase) => "a whole number",
        _ when type.Contains("bool", StringComparison.OrdinalIgnoreCase) => "true or false",
        _ when type.Contains("Guid", StringComparison.Ordinal) => "an id as the service gave it out",
        _ => "another value",
    };

    [GeneratedRegex("""Failed to bind parameter "(?<type>.+) (?<name>\w+)" from """)]
    private static partial Regex UnboundParameter();

    [GeneratedRegex("""Required parameter "(?<type>.+) (?<name>\w+)" was not provided""")]
    private static partial Regex MissingParameter();

    [LoggerMessage(LogLevel.Error, "A {Method} request failed by a defect")]
    private static partial void LogDefect(ILogger logger, Exception e, string method);

    [LoggerMessage(LogLevel.Warning, "The database does not answer")]
    private static partial void LogUnavailable(ILogger logger, Exception e);
}
