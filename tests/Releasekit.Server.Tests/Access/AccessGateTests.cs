using System.Net;

namespace Releasekit.Server.Tests.Access;

/// <summary>Who is let through, as RFC 6750 words it.</summary>
public class AccessGateTests(Service service)
{
    [Fact]
    public async Task Without_a_token_the_answer_names_the_scheme_and_no_error()
    {
        var answer = await service.ClientWith(null)
            .GetAsync(new Uri("/v1/publisher", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Equal(HttpStatusCode.Unauthorized, answer.StatusCode);
        Assert.Equal("realm=\"releasekit\"", Assert.Single(answer.Headers.WwwAuthenticate).Parameter);
    }

    [Fact]
    public async Task A_token_reads_its_own_publisher()
    {
        var publisher = await service.NewPublisher();

        var answer = await publisher.Http.GetStringAsync(
            new Uri("/v1/publisher", UriKind.Relative), TestContext.Current.CancellationToken);

        Assert.Contains(publisher.Id, answer, StringComparison.Ordinal);
    }
}
