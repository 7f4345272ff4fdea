using System.Text.Json.Serialization;
using Releasekit.Domain;

namespace Releasekit.Server.Http;

/// <summary>An error answer: RFC 9457, told apart by <c>type</c>, never by its text.</summary>
/// <param name="Type">Where the kind of problem is described, on this service.</param>
/// <param name="Title">The kind of problem in words; the same for every problem of this type.</param>
/// <param name="Status">The HTTP status of the answer.</param>
/// <param name="Detail">What is wrong here, and what would be right.</param>
/// <param name="Errors">For a request with several faults or a fault in one member: each with its JSON pointer.</param>
internal sealed record Problem(
    string Type,
    string Title,
    int Status,
    string Detail,
    [property: JsonIgnore(Condition = JsonIgnoreCondition.WhenWritingNull)] IReadOnlyList<ProblemError>? Errors = null)
{
    public const string MediaType = "application/problem+json";
}

/// <param name="Pointer">JSON pointer into the request's body, or the name of a query parameter.</param>
/// <param name="Detail">What is wrong there, and what would be right.</param>
internal sealed record ProblemError(string Pointer, string Detail);

/// <summary>Words problems in one place.</summary>
internal static class Problems
{
    /// <summary>A problem of the catalogue.</summary>
    public static Problem Of(string code, string detail, params IReadOnlyList<ProblemError> errors)
    {
        var kind = ProblemCatalog.Find(code);
        return new($"/docs/problems/{code}", kind.Title, kind.Status, detail, errors.Count == 0 ? null : errors);
    }

    /// <summary>
    /// The domain says no: 409 for a state that forbids it, 422 for a request that cannot be accepted.
    /// </summary>
    public static Problem Of(Refusal refusal)
    {
        var kind = ProblemCatalog.Find(refusal.Code);
        ProblemError[] errors = refusal switch
        {
            { Faults.Count: > 0 } => [.. refusal.Faults.Select(fault => new ProblemError(fault.Member, fault.Reason))],
            { Member: { } member } => [new(member, refusal.Reason)],
            _ => [],
        };

        return new(
            $"/docs/problems/{refusal.Code}",
            kind.Title,
            refusal.Kind is RefusalKind.Conflict
                ? StatusCodes.Status409Conflict : StatusCodes.Status422UnprocessableEntity,
            refusal.Reason,
            errors.Length == 0 ? null : errors);
    }

    /// <summary>404, the same for what never was and for what is another publisher's.</summary>
    public static Problem NotFound(string what) => Of("not-found", $"There is no {what} here.");
}
