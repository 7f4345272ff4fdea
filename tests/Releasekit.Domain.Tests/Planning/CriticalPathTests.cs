using System.Text.Json;
using CsCheck;
using NodaTime.Text;
using Releasekit.Domain.Planning;
using Releasekit.Domain.Publishers;

namespace Releasekit.Domain.Tests.Planning;

public sealed class CriticalPathTests
{
    public static TheoryData<string, string> Cases => CheckCase.Rows("statistics.json", "f.cpm.");

    [Theory]
    [MemberData(nameof(Cases))]
    public void The_times_are_the_published_ones(string id, string source)
    {
        Assert.NotEmpty(source);
        var check = CheckCase.Find("statistics.json", id);

        var path = Find(check.Inputs.GetProperty("activities"), Duration.FromHours);

        Assert.Equal(Duration.FromHours(check.Expected.Number("duration")), path.Length);
        Assert.Equal(check.Expected.Strings("critical"), path.Critical);
        AssertRows(check.Expected.GetProperty("rows"), path, Duration.FromHours);
    }

    [Fact]
    public void The_episode_of_the_checks_falls_on_its_evenings_and_keeps_its_floats()
    {
        var check = CheckCase.Find("statistics.json", "f.calendar.episode");
        var calendar = new WorkingCalendar(
            Week(check.Inputs.GetProperty("week")),
            check.Inputs.Strings("days_off").Select(day => LocalDatePattern.Iso.Parse(day).Value),
            [],
            DateTimeZone.Utc);
        var start = At(check.Inputs.Text("start"));

        var path = Find(check.Inputs.GetProperty("activities_minutes"), Duration.FromMinutes);

        var plain = check.Expected.GetProperty("working_minutes");
        Assert.Equal(Duration.FromMinutes(plain.Number("duration")), path.Length);
        Assert.Equal(plain.Strings("critical"), path.Critical);
        AssertRows(plain.GetProperty("rows"), path, Duration.FromMinutes);

        var rows = check.Expected.GetProperty("calendar").GetProperty("rows");
        Assert.Equal(At(check.Expected.GetProperty("calendar").Text("finish")), calendar.Add(start, path.Length));
        foreach (var times in path.Activities)
        {
            var row = rows.GetProperty(times.Key);
            var (from, to) = (Shown(times.EarliestStart), Shown(times.LatestStart));
            Assert.Equal(At(row.Text("ES")), from);
            Assert.Equal(At(row.Text("EF")), calendar.Add(start, times.EarliestFinish));
            Assert.Equal(At(row.Text("LS")), to);
            Assert.Equal(At(row.Text("LF")), calendar.Add(start, times.LatestFinish));
            Assert.Equal(Duration.FromMinutes(row.Number("TF_minutes")), times.TotalFloat);
            Assert.Equal(Duration.FromMinutes(row.Number("FF_minutes")), times.FreeFloat);
            Assert.Equal(times.TotalFloat, calendar.Between(from!.Value, to!.Value));
        }

        Instant? Shown(Duration worked) => calendar.NextWorkingInstant(calendar.Add(start, worked)!.Value);
    }

    [Fact]
    public void A_circle_is_refused_and_named()
    {
        var path = CriticalPath.TryFind(
            [
                new("outline", Duration.Zero, []), new("mix", Duration.Zero, ["outline", "notes"]),
                new("cut", Duration.Zero, ["mix"]), new("notes", Duration.Zero, ["cut"]),
            ], out var fault);

        Assert.Null(path);
        Assert.Contains("mix → cut → notes → mix", fault!, StringComparison.Ordinal);
    }

    [Fact]
    public void An_unknown_predecessor_and_a_key_that_stands_twice_are_refused()
    {
        Assert.Null(CriticalPath.TryFind([new("mix", Duration.Zero, ["cut"])], out var unknown));
        Assert.Equal("'mix' comes after 'cut', which is not there.", unknown);

        var mix = new Activity("mix", Duration.Zero, []);
        Assert.Null(CriticalPath.TryFind([mix, mix], out var twice));
        Assert.Equal("There are two 'mix'; every key may stand once.", twice);
    }

    [Fact]
    public void A_due_before_the_end_leaves_less_float_and_too_little_time_a_negative_one()
    {
        var path = CriticalPath.TryFind(
            [
                new("mix", Duration.FromHours(3), []) { Due = Duration.FromHours(2) },
                new("notes", Duration.FromHours(1), []) { NotBefore = Duration.FromHours(5) },
            ], out _)!;

        Assert.Equal(Duration.FromHours(6), path.Length);
        Assert.Equal(Duration.FromHours(-1), path.Activities[0].TotalFloat);
        Assert.Equal(Duration.Zero, path.Activities[1].TotalFloat);
        Assert.Equal(["mix"], path.Critical);
    }

    [Fact]
    public void Delaying_one_activity_by_its_total_float_lengthens_nothing_and_by_more_all() =>
        Gen.Select(Gen.Int[0, 9].Array[1, 9], Gen.Int[0, 511].Array[9], Gen.Int[0, 8]).Sample((efforts, links, one) =>
        {
            var path = CriticalPath.TryFind(Network(efforts, links), out _)!;
            var at = one % efforts.Length;
            var room = (int)path.Activities[at].TotalFloat.TotalHours;

            Assert.Equal(path.Length, Delayed(room));
            Assert.Equal(path.Length + Duration.FromHours(1), Delayed(room + 1));

            Duration Delayed(int hours) => CriticalPath.TryFind(
                Network([.. efforts.Select((effort, i) => i == at ? effort + hours : effort)], links), out _)!.Length;
        }, iter: 500);

    private static Activity[] Network(int[] efforts, int[] links) =>
    [
        .. efforts.Select((effort, i) => new Activity(
            Name(i), Duration.FromHours(effort),
            [.. Enumerable.Range(0, i).Where(before => (links[i] >> before & 1) == 1).Select(Name)])),
    ];

    private static string Name(int index) => "s" + index.ToString(System.Globalization.CultureInfo.InvariantCulture);

    private static CriticalPath Find(JsonElement activities, Func<double, Duration> unit)
    {
        var path = CriticalPath.TryFind(
            [
                .. activities.EnumerateObject().Select(entry => new Activity(
                    entry.Name, unit(entry.Value[0].GetDouble()),
                    [.. entry.Value[1].EnumerateArray().Select(before => before.GetString()!)])),
            ], out var fault);
        Assert.Null(fault);
        return path!;
    }

    private static void AssertRows(JsonElement rows, CriticalPath path, Func<double, Duration> unit)
    {
        Assert.Equal(rows.EnumerateObject().Select(row => row.Name), path.Activities.Select(times => times.Key));
        foreach (var times in path.Activities)
        {
            var row = rows.GetProperty(times.Key);
            Assert.Equal(
                new[] { "ES", "EF", "LS", "LF", "TF", "FF" }.Select(name => unit(row.Number(name))),
                [
                    times.EarliestStart, times.EarliestFinish, times.LatestStart, times.LatestFinish,
                    times.TotalFloat, times.FreeFloat,
                ]);
        }
    }

    private static IEnumerable<WorkingHours> Week(JsonElement week) => week.EnumerateObject().SelectMany(day =>
        day.Value.GetString()!.Split(',', '-')
            .Select(time => LocalTimePattern.CreateWithInvariantCulture("HH:mm").Parse(time).Value)
            .Chunk(2)
            .Select(hours => new WorkingHours(
                Enumerable.Range(1, 7).Select(d => (IsoDayOfWeek)d)
                    .Single(d => d.ToString().StartsWith(day.Name, StringComparison.Ordinal)), hours[0], hours[1])));

    private static Instant At(string local) =>
        LocalDateTimePattern.CreateWithInvariantCulture("uuuu-MM-dd'T'HH:mm").Parse(local).Value.InUtc().ToInstant();
}
