using System.Diagnostics;
using System.Text;
using System.Text.Json;
using Releasekit.Client;
using Releasekit.Client.Imports;
using Releasekit.Client.Work;

namespace Releasekit.Server.Tests.Imports;

/// <summary>Entries of any kind with awkward texts, and their way into and out of files.</summary>
internal static class EntrySheets
{
    private static readonly string[] Pieces =
        ["tide", "a,b", "say \"ebb\"", "two\nlines", "semi;colon", "Praía", "מים", "=1+1", " spaced ", "🌊", "\t", "-"];

    public static async Task Fill(ReleasekitClient client, string kind, Random random)
    {
        for (var i = 0; i < 12; i++)
        {
            var text = $"{i} {Text(random)}\n{Text(random)}";
            var line = $"{i} {Text(random).Replace('\n', ' ').Replace('\t', ' ')}";
            string[] tags = ["mud", "salt & sand"];
            var day = new LocalDate(2026, 3, 1).PlusDays(random.Next(40));
            var at = Instant.FromUtc(2026, 2, 1, 9, 0) + Duration.FromMinutes(random.Next(9_999));

            await (kind switch
            {
                "ideas" => (Task)client.Ideas.Create(
                    new(text, null, tags, random.Next(1, 4), Duration.FromMinutes(90), at)).Value(),
                "notes" => client.Notes.Create(new(text, i % 2 == 0 ? line : null, tags, null, at)).Value(),
                "wants" => client.Wants.Create(new(
                    line, i % 2 == 0 ? "recording" : null, i % 3 == 0 ? new(12.5m, "EUR") : null,
                    "https://example.org/a?b=c,d", text, i % 4 == 0 ? day : null, tags, at)).Value(),
                "tasks" => client.Tasks.Create(new(
                    line, i % 2 == 0 ? "2026-W10" : "2026-03", i % 2 == 0 ? Sphere.Work : Sphere.Personal, i % 3 == 0,
                    Duration.FromHours(2), text, tags, NotedAt: at)).Value(),
                _ => client.Appointments.Create(new(
                    line, day, i % 2 == 0 ? new LocalTime(9, 30) : null,
                    Rrule: i % 3 == 0 ? "FREQ=DAILY;INTERVAL=2" : null,
                    Except: i % 3 == 0 ? [day.PlusDays(2), day.PlusDays(4)] : null, Note: text, NotedAt: at)).Value(),
            });
        }
    }

    private static string Text(Random random) =>
        string.Concat(Enumerable.Range(0, random.Next(1, 6)).Select(_ => Pieces[random.Next(Pieces.Length)]));

    public static async Task<string> Export(ReleasekitClient client, string kind) => await (kind switch
    {
        "ideas" => client.Ideas.Export(),
        "notes" => client.Notes.Export(),
        "wants" => client.Wants.Export(),
        "tasks" => client.Tasks.Export(),
        _ => client.Appointments.Export(),
    }).Value();

    public static async Task<Import> Import(
        ReleasekitClient client, string kind, string sheet, string? map = null, bool? dryRun = null)
    {
        var run = await client.Imports.Start(Csv(sheet), map: map, dryRun: dryRun, kind: kind).Value();
        Assert.Equal(run.State, (await client.Imports.Get(run.Id).Value()).State);
        return run;
    }

    public static StringContent Csv(string sheet) => new(sheet, new UTF8Encoding(false), "text/csv");

    public static async Task<string[][]> InPython(string sheet)
    {
        var start = new ProcessStartInfo(
            "python3", ["-c", "import csv,io,json,sys; "
                + "print(json.dumps(list(csv.reader(io.TextIOWrapper(sys.stdin.buffer,'utf-8',newline='')))))"])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
        };
        using var python = Process.Start(start)!;
        await python.StandardInput.BaseStream.WriteAsync(Encoding.UTF8.GetBytes(sheet));
        python.StandardInput.Close();
        return JsonSerializer.Deserialize<string[][]>(await python.StandardOutput.ReadToEndAsync())!;
    }
}
