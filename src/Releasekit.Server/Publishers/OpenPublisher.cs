using JasperFx;
using Marten;
using Releasekit.Domain;
using Releasekit.Domain.Publishers;
using Releasekit.Server.Access;
using Releasekit.Server.Clock;
using Releasekit.Server.Http;

namespace Releasekit.Server.Publishers;

/// <summary>POST /v1/publishers: opens a publisher and makes its first token.</summary>
internal static class OpenPublisher
{
    /// <summary>What a publisher's own first token may do; the operator scope stays with the operator.</summary>
    private static readonly Scope[] OwnScopes = [Scope.Read, Scope.Write, Scope.Admin];

    public static void Map(IEndpointRouteBuilder publishers) => publishers
        .MapPost("/", Handle)
        .WithName("openPublisher")
        .WithSummary("Open a publisher")
        .WithDescription("Answers its first token, with the scopes read, write and admin; it is shown this once.")
        .Answers(201, 409, 422)
        .Needs(Scope.Operator);

    private static async Task<Answer<NewPublisherBody>> Handle(
        OpenPublisherRequest body, IDocumentStore store, ServiceClock clock, CancellationToken cancel)
    {
        var publisher = new Publisher(
            body.Id ?? Wording.KeyOf(body.Name), body.Name, body.Zone, Publisher.UsualWeek, [], clock.Now);

        if (PublisherRules.Check(publisher) is { } refusal)
        {
            return Problems.Of(refusal);
        }

        var (token, secret) = CreateToken.New(publisher.Id, "first token", OwnScopes, publisher.OpenedAt);

        return await Store(store, publisher, token, cancel)
            ? Http.Answers.Created($"/v1/publishers/{publisher.Id}", new NewPublisherBody(publisher.Id, secret))
            : Problems.Of("exists", $"There is a publisher '{publisher.Id}' already; choose another id.");
    }

    /// <summary>Stores a publisher with its first token, both or neither; false when the id is taken.</summary>
    public static async Task<bool> Store(
        IDocumentStore store, Publisher publisher, AccessToken token, CancellationToken cancel)
    {
        await using var session = store.LightweightSession();
        session.Insert(publisher);
        session.Insert(token);

        try
        {
            await session.SaveChangesAsync(cancel);
            return true;
        }
        catch (DocumentAlreadyExistsException)
        {
            return false;
        }
    }
}

/// <param name="Name">One line, 1 to 200 characters.</param>
/// <param name="Id">A slug; made from the name when left out.</param>
/// <param name="Zone">IANA zone id; UTC when left out.</param>
internal sealed record OpenPublisherRequest(string Name, string? Id = null, string Zone = "Etc/UTC");

/// <param name="Id">The slug of the new publisher.</param>
/// <param name="Token">The publisher's first token; it is not shown again.</param>
internal sealed record NewPublisherBody(string Id, string Token);
