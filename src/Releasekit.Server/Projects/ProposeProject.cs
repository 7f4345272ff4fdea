using Releasekit.Domain.Work;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;
using Releasekit.Server.Store;

namespace Releasekit.Server.Projects;

/// <summary>POST /v1/projects: keeps a project for later, as a candidate.</summary>
internal static class ProposeProject
{
    public static void Map(IEndpointRouteBuilder projects) => projects
        .MapPost("/", Handle)
        .WithName("proposeProject")
        .WithSummary("Propose a project")
        .WithDescription("It is a candidate until it is started; steps may be planned for it already.")
        .Answers(201, 422)
        .Needs(Scope.Write);

    private static Task<Answer<ProjectBody>> Handle(
        ProposeProjectRequest body, Caller caller, Ledger ledger, ServiceClock clock, CancellationToken cancel)
    {
        var id = NewIds.Next();
        return ledger.Write<ProjectBody>(
            caller.Publisher,
            async unit =>
            {
                var now = clock.Now;
                var rank = body.Rank ?? ProjectDecider.UsualRank;
                var decision = ProjectDecider.Propose(id, body.Title, rank, body.Note, now);

                return decision.Refusal is { } refusal
                    ? Problems.Of(refusal)
                    : Http.Answers.Created(
                        $"/v1/projects/{id}",
                        ProjectBody.Of(unit.Begin(id, [.. decision]), await unit.Publisher(), now));
            },
            cancel);
    }
}

/// <param name="Title">One line, 1 to 200 characters.</param>
/// <param name="Rank">1 to 3, 3 the highest, by the outcome expected of it; 2 when left out.</param>
/// <param name="Note">What is to be remembered about it.</param>
internal sealed record ProposeProjectRequest(string Title, int? Rank = null, string? Note = null);
