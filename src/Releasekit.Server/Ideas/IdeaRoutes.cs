using Releasekit.Domain.Ideas;
using Releasekit.Server.Entries;

namespace Releasekit.Server.Ideas;

/// <summary>Every route of ideas, notes and wants.</summary>
internal static class IdeaRoutes
{
    public static void MapIdeas(this IEndpointRouteBuilder api)
    {
        var ideaKind = new IdeaKind();
        var ideas = api.MapEntries(ideaKind, "Ideas");
        ListEntries.Map<Idea, IdeaValues, IdeaBody, IdeaFilter>(ideas, ideaKind);
        RankIdeas.Map(ideas);
        PromoteIdea.Map(ideas, ideaKind);

        var noteKind = new NoteKind();
        ListEntries.Map<Note, NoteValues, NoteBody, NoteFilter>(api.MapEntries(noteKind, "Notes"), noteKind);

        var wantKind = new WantKind();
        ListEntries.Map<Want, WantValues, WantBody, WantFilter>(api.MapEntries(wantKind, "Wants"), wantKind);
    }
}
