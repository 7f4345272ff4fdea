using System.Diagnostics;
using System.Globalization;
using System.Net;
using Npgsql;
using Releasekit.Client;
using Releasekit.Client.Ideas;

namespace Releasekit.Benchmarks;

/// <summary>
/// Search over 100,000 entries, by real HTTP, beside what PostgreSQL does without an index: reading every title and
/// text for the letters. Words are made up and as unevenly frequent as those of a language (Zipf's law). The table's
/// statistics are gathered first, as the database does by itself within a minute.
/// </summary>
internal static class SearchBenchmark
{
    private const int Releases = 70_000;
    private const int Notes = 30_000;
    private const int Clients = 8;
    private const int Rounds = 40;
    private const int Vocabulary = 20_000;
    private static readonly string[] Syllables =
        ["ba", "cor", "di", "el", "fen", "gul", "ha", "lo", "mud", "na", "os", "pi", "re", "sal", "ti", "wen"];

    public static async Task Run()
    {
        await using var service = await RunningService.Start();
        var client = await Workload.GivenASeries(service);
        var random = new Random(20261125);
        await Fill(client, random);
        await Execute(service, "analyze releasekit.search_entries");

        foreach (var (what, q) in Questions())
        {
            var (ours, theirs) = (new List<double>(), new List<double>());
            var hits = 0;

            for (var round = 0; round < Rounds; round++)
            {
                (var took, hits) = await Search(service, q);
                ours.Add(took);

                if (round < 5)
                {
                    theirs.Add(await Scan(service, q.Split(' ')[0]));
                }
            }

            Machine.Say(
                $"search of {Releases + Notes} entries, {what} ({hits} on the first page): "
                + $"{Machine.Spread(ours, "0.0")} ms (target 50)   every row read: {Machine.Spread(theirs, "0")} ms");
        }
    }

    private static IEnumerable<(string What, string Q)> Questions()
    {
        yield return ("a rare word", Word(15_000));
        yield return ("a word in many", Word(0));
        yield return ("two words", $"{Word(3)} {Word(400)}");
        yield return ("a beginning", Word(30)[..4]);
        yield return ("a beginning of two letters", "mu");
        yield return ("a typing error", Swapped(Word(5_000)));
        yield return ("a word that is nowhere", "zzyzxqq");
    }

    private static async Task Fill(ReleasekitClient client, Random random)
    {
        var rows = Enumerable.Range(0, Releases).Select(i => $"r{i},{Sentence(random, 6)}\n");
        await Workload.Import(client, $"external_id,title\n{string.Concat(rows)}");
        var texts = Enumerable.Range(0, Notes).Select(_ => Sentence(random, 25)).ToArray();
        var next = -1;

        await Task.WhenAll(Enumerable.Range(0, Clients).Select(async _ =>
        {
            while (Interlocked.Increment(ref next) is var i && i < Notes)
            {
                await client.Notes.Create(new NoteValues(texts[i])).Value();
            }
        }));
    }

    private static async Task<(double Took, int Hits)> Search(RunningService service, string q)
    {
        using var http = service.ConnectPlainly();
        var watch = Stopwatch.StartNew();
        using var answer = await http.GetAsync(new Uri($"/v1/search?q={Uri.EscapeDataString(q)}", UriKind.Relative));
        var text = await answer.Content.ReadAsStringAsync();
        var took = watch.Elapsed.TotalMilliseconds;

        return answer.StatusCode is HttpStatusCode.OK
            ? (took, text.Split("\"address\"").Length - 1)
            : throw new InvalidOperationException(text);
    }

    private static Task<double> Scan(RunningService service, string word) => Execute(
        service,
        "select id from releasekit.search_entries where title ilike $1 or body ilike $1 order by changed_at desc "
        + "limit 50",
        $"%{word}%");

    /// <returns>How many milliseconds it took.</returns>
    private static async Task<double> Execute(RunningService service, string sql, params string[] values)
    {
        await using var connection = new NpgsqlConnection(
            $"Host={service.Socket};Database=releasekit;Username={Environment.UserName}");
        await connection.OpenAsync();
        await using var command = new NpgsqlCommand(sql, connection);

        foreach (var value in values)
        {
            command.Parameters.Add(new NpgsqlParameter { Value = value });
        }

        var watch = Stopwatch.StartNew();
        await using var rows = await command.ExecuteReaderAsync();

        while (await rows.ReadAsync())
        {
        }

        return watch.Elapsed.TotalMilliseconds;
    }

    private static string Sentence(Random random, int words) =>
        string.Join(' ', Enumerable.Range(0, words).Select(_ => Word(Rank(random))));

    /// <summary>Rank k falls to a share that is proportional to 1/k.</summary>
    private static int Rank(Random random) => (int)Math.Pow(Vocabulary, random.NextDouble()) - 1;

    /// <summary>Every rank has a word of its own, of two to four syllables.</summary>
    private static string Word(int rank)
    {
        var word = string.Empty;

        for (var left = rank + Syllables.Length; left > 0; left /= Syllables.Length)
        {
            word += Syllables[left % Syllables.Length];
        }

        return word.ToLower(CultureInfo.InvariantCulture);
    }

    private static string Swapped(string word) => $"{word[..2]}{word[3]}{word[2]}{word[4..]}";
}
