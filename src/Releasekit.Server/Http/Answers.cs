using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.Metadata;
using Releasekit.Server.Pages;

namespace Releasekit.Server.Http;

/// <summary>A body that has an address of its own and is answered with a strong ETag.</summary>
internal interface ITagged;

/// <summary>
/// The answer of a slice: a body (200), a created thing (201 with its address),
/// accepted work (202), nothing (204), or a problem. Tagged bodies carry an ETag over the bytes sent, and a GET that
/// has them already is told so (304).
/// </summary>
internal class Answer<TBody> : IResult, IEndpointMetadataProvider
{
    private readonly TBody? _body;
    private readonly Problem? _problem;

    internal Answer(TBody? body, Problem? problem, int status = StatusCodes.Status200OK, string? location = null)
    {
        (_body, _problem) = (body, problem);
        (Status, Location) = (status, location);
    }

    /// <summary>Whether nothing may be kept of what led here.</summary>
    internal bool IsProblem => _problem is not null;

    /// <summary>Why it was refused; null when it was not.</summary>
    internal Problem? Problem => _problem;

    /// <summary>What came of it; null when it was refused.</summary>
    internal TBody? Body => _body;

    private int Status { get; }

    private string? Location { get; }

    public static implicit operator Answer<TBody>(TBody body) => new(body, null);

    public static implicit operator Answer<TBody>(Problem problem) => new(default, problem);

    public static void PopulateMetadata(MethodInfo method, EndpointBuilder builder)
    {
        builder.Metadata.Add(new BodyOfAnswer(typeof(TBody)));

        if (typeof(TBody) != typeof(Nothing))
        {
            builder.Metadata.Add(
                new ProducesResponseTypeMetadata(StatusCodes.Status200OK, typeof(TBody), ["application/json"]));
        }
    }

    public virtual Task ExecuteAsync(HttpContext http)
    {
        if (_problem is not null)
        {
            return ProblemWriter.Write(http, _problem);
        }

        http.Response.StatusCode = Status;
        http.Response.Headers.Location = Location;

        if (_body is null)
        {
            return Task.CompletedTask;
        }

        var bytes = JsonSerializer.SerializeToUtf8Bytes(_body, ApiJson.Options);

        if (_body is ITagged && ETags.IsUnchanged(http, ETags.OfBytes(bytes)))
        {
            return Task.CompletedTask;
        }

        http.Response.ContentType = "application/json; charset=utf-8";
        http.Response.ContentLength = bytes.Length;

        return http.Response.Body.WriteAsync(bytes).AsTask();
    }
}

/// <summary>What a route answers with when all goes well; read by the contract.</summary>
internal sealed record BodyOfAnswer(Type Body);

/// <summary>The other good answers.</summary>
internal static class Answers
{
    public static Answer<TBody> Created<TBody>(string location, TBody body) =>
        new(body, null, StatusCodes.Status201Created, location);

    public static Answer<TBody> Accepted<TBody>(string location, TBody body) =>
        new(body, null, StatusCodes.Status202Accepted, location);

    public static Answer<Nothing> NoContent() => new(null, null, StatusCodes.Status204NoContent);
}

/// <summary>An answer without a body.</summary>
internal sealed record Nothing;

/// <summary>Writes a problem as the answer.</summary>
internal static class ProblemWriter
{
    public static async Task Write(HttpContext http, Problem problem)
    {
        if (http.WantsPage())
        {
            await http.RequestServices.GetRequiredService<HtmlPages>().WriteProblem(http, problem);
            return;
        }

        http.Response.StatusCode = problem.Status;
        var bytes = JsonSerializer.SerializeToUtf8Bytes(problem, ApiJson.Options);
        http.Response.ContentType = Problem.MediaType;
        http.Response.ContentLength = bytes.Length;

        if (!HttpMethods.IsHead(http.Request.Method))
        {
            await http.Response.Body.WriteAsync(bytes);
        }
    }
}
