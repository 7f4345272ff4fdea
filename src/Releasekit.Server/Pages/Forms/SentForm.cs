using Releasekit.Server.Access;
using Releasekit.Server.Http;

namespace Releasekit.Server.Pages.Forms;

/// <summary>A form as it was sent: its fields, and the page it stands on.</summary>
internal sealed class SentForm
{
    private readonly Dictionary<string, string> _fields;

    private SentForm(Dictionary<string, string> fields) => _fields = fields;

    /// <summary>The page it stands on.</summary>
    public SheetAddress Sheet => SheetAddress.Of(this["sheet"]);

    /// <summary>What was typed into a field, without blanks around it; empty when it is not there.</summary>
    public string this[string field] => _fields.GetValueOrDefault(field, string.Empty).Trim();

    /// <summary>What was typed, null when nothing was.</summary>
    public string? Optional(string field) => this[field] is { Length: > 0 } text ? text : null;

    /// <summary>Whether a box was ticked.</summary>
    public bool Has(string field) => _fields.ContainsKey(field);

    public static async ValueTask<SentForm?> BindAsync(HttpContext http)
    {
        if (!http.Request.HasFormContentType)
        {
            throw new BadHttpRequestException("A form is needed here.", StatusCodes.Status415UnsupportedMediaType);
        }

        var form = await http.Request.ReadFormAsync(http.RequestAborted);

        return new(form
            .Where(field => field.Value.Count > 0)
            .ToDictionary(field => field.Key, field => field.Value[0]!.ReplaceLineEndings("\n")));
    }

    /// <summary>
    /// Leads back to the page it came from; when it was refused, shows that page again with what was typed.
    /// </summary>
    /// <param name="name">Which form it is.</param>
    /// <param name="place">The element to come back to; null for the top.</param>
    /// <param name="query">What the page is to say of it; null for nothing.</param>
    public async Task Answer<TBody>(
        HttpContext http, Caller caller, SheetPages pages, string name, Answer<TBody> answer, string? place = null,
        string? query = null)
    {
        if (answer.Problem is { } problem)
        {
            await pages.Show(http, caller, Sheet, new FilledForm(name, _fields, problem.Status, problem.Detail));
            return;
        }

        http.Response.StatusCode = StatusCodes.Status303SeeOther;
        http.Response.Headers.Location =
            $"{Sheet.Path}{(query is null ? "" : $"?{query}")}{(place is null ? "" : $"#{place}")}";
    }
}
