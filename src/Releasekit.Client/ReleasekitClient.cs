using System.Net.Http.Headers;
using Refit;
using Releasekit.Client.Events;
using Releasekit.Client.Feeds;
using Releasekit.Client.Ideas;
using Releasekit.Client.Imports;
using Releasekit.Client.Jobs;
using Releasekit.Client.Learning;
using Releasekit.Client.Planning;
using Releasekit.Client.Plans;
using Releasekit.Client.Projects;
using Releasekit.Client.Publishers;
using Releasekit.Client.Releases;
using Releasekit.Client.Schedule;
using Releasekit.Client.Search;
using Releasekit.Client.Sheets;
using Releasekit.Client.Work;

namespace Releasekit.Client;

/// <summary>
/// A service with a token: one interface for each area. Every call answers the
/// whole response, so that ETag and Location are at hand;
/// <see cref="ReleasekitAnswers"/> takes the value out of it or tells the
/// problem.
/// </summary>
/// <param name="http">Has the service's address, and the token in its Authorization header.</param>
public sealed class ReleasekitClient(HttpClient http)
{
    private static readonly RefitSettings Settings = new(new SystemTextJsonContentSerializer(ReleasekitJson.Options))
    {
        UrlParameterFormatter = new QueryValues(),
    };

    /// <summary>The token's publisher; for operators also the others.</summary>
    public IPublishers Publishers { get; } = RestService.For<IPublishers>(http, Settings);

    /// <summary>Tokens of the publisher.</summary>
    public ITokens Tokens { get; } = RestService.For<ITokens>(http, Settings);

    /// <summary>Stage plans.</summary>
    public IStagePlans StagePlans { get; } = RestService.For<IStagePlans>(http, Settings);

    /// <summary>Series, cadence, breaks, slots.</summary>
    public ISeries Series { get; } = RestService.For<ISeries>(http, Settings);

    /// <summary>Releases and their transitions.</summary>
    public IReleases Releases { get; } = RestService.For<IReleases>(http, Settings);

    /// <summary>Projects and their steps.</summary>
    public IProjects Projects { get; } = RestService.For<IProjects>(http, Settings);

    /// <summary>Whether the open work fits.</summary>
    public IPlanning Planning { get; } = RestService.For<IPlanning>(http, Settings);

    /// <summary>What is learnt from how the work went.</summary>
    public ILearning Learning { get; } = RestService.For<ILearning>(http, Settings);

    /// <summary>A year, a month or a week on one page.</summary>
    public ISheets Sheets { get; } = RestService.For<ISheets>(http, Settings);

    /// <summary>What happened, as it is told to others.</summary>
    public IEvents Events { get; } = RestService.For<IEvents>(http, Settings);

    /// <summary>What the service does by itself.</summary>
    public IJobs Jobs { get; } = RestService.For<IJobs>(http, Settings);

    /// <summary>Thoughts for future releases.</summary>
    public IIdeas Ideas { get; } = RestService.For<IIdeas>(http, Settings);

    /// <summary>Free text to find again.</summary>
    public INotes Notes { get; } = RestService.For<INotes>(http, Settings);

    /// <summary>Things to buy one day.</summary>
    public IWants Wants { get; } = RestService.For<IWants>(http, Settings);

    /// <summary>Things to do on a day, in a week or in a month.</summary>
    public ITasks Tasks { get; } = RestService.For<ITasks>(http, Settings);

    /// <summary>Fixed times in the diary.</summary>
    public IAppointments Appointments { get; } = RestService.For<IAppointments>(http, Settings);

    /// <summary>Everything, by its words.</summary>
    public ISearch Search { get; } = RestService.For<ISearch>(http, Settings);

    /// <summary>Imports of a history.</summary>
    public IImports Imports { get; } = RestService.For<IImports>(http, Settings);

    /// <summary>Calendar feeds.</summary>
    public IFeeds Feeds { get; } = RestService.For<IFeeds>(http, Settings);

    /// <summary>Whether the service runs.</summary>
    public IService Service { get; } = RestService.For<IService>(http, Settings);

    /// <summary>A client of its own connection pool.</summary>
    public static ReleasekitClient Connect(Uri address, string token)
    {
        var http = new HttpClient { BaseAddress = address };
        http.DefaultRequestHeaders.Authorization = new AuthenticationHeaderValue("Bearer", token);
        return new(http);
    }
}
