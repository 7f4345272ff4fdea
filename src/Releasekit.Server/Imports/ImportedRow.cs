using NodaTime.Text;
using Releasekit.Client;
using Releasekit.Domain;
using Releasekit.Domain.Releases;
using Releasekit.Domain.Schedule;
using Releasekit.Server.Clock;

namespace Releasekit.Server.Imports;

/// <summary>Reads the fields of one row; every field that cannot be read is an error of its own.</summary>
internal sealed class ImportedRow(ImportColumns columns, StagePlan plan, DateTimeZone zone, Instant now)
{
    private const int LongestExternalId = 200;

    /// <summary>What reading puts where bytes are no UTF-8.</summary>
    private const char NoCharacter = '\uFFFD';

    /// <summary>The release the row tells of; null when it has errors.</summary>
    /// <param name="line">Where the row begins in the file.</param>
    public ImportedRelease? Read(string[] fields, int line, List<RowError> errors)
    {
        var before = errors.Count;

        if (fields.Length != columns.Count)
        {
            errors.Add(new(line, null, $"The row has {fields.Length} fields, the header {columns.Count}."));
            return null;
        }

        foreach (
            var (field, i) in fields.Select((field, i) => (field, i)).Where(pair => pair.field.Contains(NoCharacter)))
        {
            errors.Add(new(
                line, columns.NameOf(i), $"'{ColumnFaults.Shown(field)}' is not UTF-8; save the file as UTF-8."));
        }

        var externalId = Text("external_id", fields, line, LongestExternalId, errors);
        var title = Text("title", fields, line, Wording.LongestTitle, errors);
        var slot = Slot(fields, line, errors);
        var stages = plan.Stages.Select(
            stage => Stage(stage.Key, fields, line, errors)).OfType<ImportedStage>().ToArray();

        if (errors.Count > before)
        {
            return null;
        }

        var published = stages.FirstOrDefault(stage => stage.Stage == plan.Publication.Key)?.CompletedAt;

        if ((title ?? NameOf(slot, published) ?? externalId) is not { } name)
        {
            errors.Add(new(line, null, "The row tells neither a title, a slot, a publication nor an external id."));
            return null;
        }

        return new ImportedRelease(externalId, name, slot, stages);
    }

    /// <summary>
    /// By what a row is known again: its external id, else its slot, else its publication, else its title.
    /// </summary>
    public static string IdentityOf(ImportedRelease row, string publication) => row switch
    {
        { ExternalId: { } id } => $"id {id}",
        { Slot: { } slot } => $"slot {LocalDatePattern.Iso.Format(slot)}",
        _ when row.Stages.FirstOrDefault(stage => stage.Stage == publication)?.CompletedAt is { } at =>
            $"published {at}",
        _ => $"title {row.Title}",
    };

    private string? NameOf(LocalDate? slot, Instant? published) =>
        (slot ?? published?.InZone(zone).Date) is { } date ? LocalDatePattern.Iso.Format(date) : null;

    private string? Text(string fact, string[] fields, int line, int longest, List<RowError> errors)
    {
        if (Field(fact, fields) is not { } field)
        {
            return null;
        }

        if (Wording.FaultOfLine(field.Text, $"The {fact}", longest) is { } fault)
        {
            errors.Add(new(line, field.Column, fault));
        }

        return field.Text;
    }

    private LocalDate? Slot(string[] fields, int line, List<RowError> errors)
    {
        if (Field("slot_date", fields) is not { } field)
        {
            return null;
        }

        if (LocalDatePattern.Iso.Parse(field.Text) is { Success: true, Value: var date })
        {
            return date;
        }

        errors.Add(new(
            line, field.Column, $"'{ColumnFaults.Shown(field.Text)}' is no date; write it like 2026-03-05."));
        return null;
    }

    private ImportedStage? Stage(string stage, string[] fields, int line, List<RowError> errors)
    {
        var started = Moment($"{stage}.started", fields, line, errors);
        var completed = Moment($"{stage}.completed", fields, line, errors);

        if (started > completed)
        {
            errors.Add(new(
                line, Field(
                    $"{stage}.completed",
                    fields)?.Column, $"'{stage}' was completed at {completed}, before it was started ({started})."));
        }

        return started is null && completed is null ? null : new ImportedStage(stage, started, completed);
    }

    private Instant? Moment(string fact, string[] fields, int line, List<RowError> errors)
    {
        if (Field(fact, fields) is not { } field)
        {
            return null;
        }

        if (Parsed(field.Text) is not { } at)
        {
            errors.Add(new(
                line, field.Column,
                $"'{ColumnFaults.Shown(field.Text)}' is no instant; write it like 2026-03-05T19:30:00Z, "
                + "or without offset in the zone of the series."));
            return null;
        }

        if (at > now + ReleaseDecider.ClockLeeway)
        {
            errors.Add(new(line, field.Column, $"{at} is still to come; a file tells what has happened."));
        }

        return at;
    }

    private Instant? Parsed(string text)
    {
        var spelled = text.Length > 10 && text[10] == ' ' ? $"{text[..10]}T{text[11..]}" : text;

        if (ApiPatterns.Instant.Parse(spelled) is { Success: true, Value: var instant })
        {
            return instant.Cut();
        }

        return ApiPatterns.LocalDateTime.Parse(spelled) is { Success: true, Value: var local }
            ? LocalTimes.ToInstant(local, zone)
            : null;
    }

    /// <summary>A field with something in it, and the name of its column; null for an empty or missing one.</summary>
    private (string Text, string Column)? Field(string fact, string[] fields) =>
        columns.Find(fact) is { } index && fields[index].Trim() is { Length: > 0 } text
            ? (text, columns.NameOf(index))
            : null;
}
