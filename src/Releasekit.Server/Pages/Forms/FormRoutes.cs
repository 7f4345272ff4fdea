namespace Releasekit.Server.Pages.Forms;

/// <summary>What can be done from a page: each form does what one request of the contract does.</summary>
internal static class FormRoutes
{
    public static void MapForms(this IEndpointRouteBuilder forms)
    {
        TickStage.Map(forms);
        TickTask.Map(forms);
        TickItem.Map(forms);
        NoteDown.Map(forms);
        AddTask.Map(forms);
        PlanFromPage.Map(forms);
        OpenFirstSeries.Map(forms);
    }
}
