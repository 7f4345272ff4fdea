namespace Releasekit.Server.Pages;

/// <summary>Who looks at a page, and what was sent from it.</summary>
/// <param name="Sheet">The path of the sheet, where its forms lead back to.</param>
/// <param name="Seal">Goes with every form; null where nothing can be written.</param>
/// <param name="IsSession">Whether somebody is signed in, who can sign out.</param>
/// <param name="Form">What was typed into a form that was refused; null when none was.</param>
/// <param name="Ticked">The stage that was ticked just now, release and key; null when none was.</param>
public sealed record PageScene(
    string Sheet, FormSeal? Seal, bool IsSession, FilledForm? Form = null, string? Ticked = null)
{
    /// <summary>What was typed into a field of that form; null when that form was not refused.</summary>
    public string? Typed(string form, string field) => FormOf(form)?.Values.GetValueOrDefault(field);

    /// <summary>Whether a box of that form was ticked.</summary>
    public bool HasTyped(string form, string field) => FormOf(form)?.Values.ContainsKey(field) ?? false;

    /// <summary>That form as it was refused; null when it was not.</summary>
    public FilledForm? FormOf(string name) => Form is { } filled && filled.Name == name ? filled : null;
}

/// <summary>The hidden field by which a form is known as our own.</summary>
public sealed record FormSeal(string Field, string Value);

/// <summary>A form that was refused.</summary>
/// <param name="Name">Which one.</param>
/// <param name="Values">What was typed, by field.</param>
/// <param name="Status">The HTTP status of the refusal.</param>
/// <param name="Fault">What is wrong, and what would be right.</param>
public sealed record FilledForm(
    string Name, IReadOnlyDictionary<string, string> Values, int Status, string Fault);
