using Releasekit.Domain.Schedule;

namespace Releasekit.Server.Demo;

/// <summary>One episode of the story: when it was planned, worked on and published, evening by evening.</summary>
/// <param name="Number">Counts from 1; also names it in the story.</param>
/// <param name="Slot">The Thursday it is for; null for an extra.</param>
/// <param name="Due">When it should be public.</param>
/// <param name="Late">How much later than that it was.</param>
internal sealed record Episode(
    int Number, LocalDate? Slot, Instant Due, Duration Late, bool HasTranscript, Mishap Mishap, DateTimeZone Zone,
    Chance Chance)
{
    private string Name => $"episode {Number}";

    private string Path => $"/v1/releases/{{{Name}}}";

    /// <summary>Everything that was done for it, in no order.</summary>
    public IEnumerable<Deed> Deeds() => [Plan(), .. Making(), .. AfterPublication()];

    private Deed Plan() => new(
        OnDay(-16, 20, 10),
        HttpMethod.Post,
        "/v1/releases",
        Slot is { } slot
            ? new { series = DemoStory.Series, title = EpisodeTitles.Of(Number), slot }
            : new { series = DemoStory.Series, title = EpisodeTitles.Of(Number) },
        Name);

    private IEnumerable<Deed> Making()
    {
        yield return Begun("outline", OutlinedFrom);
        yield return Done("outline", OnDay(-9, 21, 5));
        yield return Begun("field-recording", OnDay(-5, 9, 20));

        foreach (var deed in Recording())
        {
            yield return deed;
        }

        yield return Begun("rough-cut", OnDay(-4, 18, 30));
        yield return Done("rough-cut", OnDay(-4, 20, 50));

        if (Mishap is Mishap.NotesFirst)
        {
            foreach (var deed in Desk("show-notes", OnDay(-3, 21, 15), minutes: 20))
            {
                yield return deed;
            }
        }

        yield return Begun("final-mix", OnDay(-2, 19, 10));
        yield return Done("final-mix", OnDay(-2, 21, 0));

        foreach (var deed in Mixing())
        {
            yield return deed;
        }

        foreach (var deed in AtTheDesk())
        {
            yield return deed;
        }

        yield return Transition(Due + Late, "publish", "completed", url: $"https://mudflat.example/{Number}");
    }

    private IEnumerable<Deed> AtTheDesk() =>
    [
        .. Mishap is Mishap.NotesFirst ? [] : Desk("show-notes", OnDay(-2, 21, 40), minutes: 20),
        .. HasTranscript ? Desk("transcript", OnDay(-1, 20, 30), minutes: 45) : [],
    ];

    /// <summary>Of every other episode somebody said when it was begun; the others were ticked, and that was
    /// all.</summary>
    private IEnumerable<Deed> Desk(string stage, Instant done, int minutes) => Number % 2 == 0
        ? [Begun(stage, done - Duration.FromMinutes(minutes)), Done(stage, done)]
        : [Done(stage, done)];

    private IEnumerable<Deed> Recording()
    {
        if (Mishap is Mishap.Wind)
        {
            yield return Transition(
                OnDay(-5, 10, 5), "field-recording", "blocked", "wind over thirty knots, nothing to hear but wind");
            yield return Transition(OnDay(-4, 8, 40), "field-recording", "started");
            yield return Done("field-recording", OnDay(-4, 11, 30));
        }
        else
        {
            yield return new(
                OnDay(-5, 9, 0), HttpMethod.Put, $"{Path}/stages/field-recording/checklist/tide-times-checked",
                new { ticked = true });
            yield return Done("field-recording", OnDay(-5, 12, 15));
        }
    }

    private IEnumerable<Deed> Mixing()
    {
        if (Mishap is Mishap.Hum)
        {
            yield return Transition(
                OnDay(-1, 18, 10), "final-mix", "ready", "a hum at fifty hertz under the interview");
            yield return Done("final-mix", OnDay(-1, 19, 50));
        }

        if (Mishap is Mishap.WrongTime)
        {
            // Ticked in the evening, corrected the next day: it had been done before supper.
            yield return new(
                OnDay(-1, 8, 0), HttpMethod.Patch, $"{Path}/transitions/{{{Name}.sequence}}",
                new { at = OnDay(-2, 21, 25) });
        }
    }

    private IEnumerable<Deed> AfterPublication()
    {
        var published = Due + Late;

        yield return Done("announce", AnnouncedAt(published));
        yield return Done("site-page", AfterDay(published, 0, 19, 20));
        yield return Mishap is Mishap.NoLetter
            ? Transition(
                AfterDay(published, 1, 19, 0), "reader-letter", "skipped", "the letter of next week tells it too")
            : Done("reader-letter", AfterDay(published, 1, 20, 15));
    }

    private Deed Begun(string stage, Instant at) => Transition(at, stage, "started");

    private Deed Done(string stage, Instant at) => Transition(at, stage, "completed");

    private Deed Transition(Instant at, string stage, string to, string? note = null, string? url = null) =>
        new(at, HttpMethod.Post, $"{Path}/transitions", new { stage, to, note, url }, Name);

    /// <summary>Every outline is begun after supper, the one time that never varies.</summary>
    private Instant OutlinedFrom => LocalTimes.ToInstant(
        Thursday.InZone(Zone).Date.PlusDays(-9).At(new LocalTime(19, 30)), Zone);

    /// <summary>A local time so many days from the slot, some minutes more or less.</summary>
    private Instant OnDay(int days, int hour, int minute) => AfterDay(Thursday, days, hour, minute);

    /// <summary>
    /// The day its work is counted from, so that a moved slot or an extra leaves Saturdays and evenings alone.
    /// </summary>
    private Instant Thursday => Due.InZone(Zone).Date
        .With(DateAdjusters.PreviousOrSame(IsoDayOfWeek.Thursday))
        .AtStartOfDayInZone(Zone)
        .ToInstant();

    /// <summary>Soon after publication, or in the morning after one late in the evening.</summary>
    private Instant AnnouncedAt(Instant published) => published.InZone(Zone).Hour is >= 21 or < 6
        ? AfterDay(published, published.InZone(Zone).Hour < 6 ? 0 : 1, 8, 20)
        : published + Chance.Minutes(15, 150);

    private Instant AfterDay(Instant from, int days, int hour, int minute) =>
        LocalTimes.ToInstant(
            from.InZone(Zone).Date.PlusDays(days).At(new LocalTime(hour, minute)), Zone) + Chance.Minutes(0, 12);
}

/// <summary>What went wrong, or otherwise, with an episode.</summary>
internal enum Mishap
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>The recording was blocked for a day.</summary>
    Wind,

    /// <summary>The mix was reopened.</summary>
    Hum,

    /// <summary>The notes were written before the mix was done.</summary>
    NotesFirst,

    /// <summary>A tick was amended.</summary>
    WrongTime,

    /// <summary>The letter was skipped.</summary>
    NoLetter,
}
