using Releasekit.Domain.Ideas;
using Releasekit.Server.Entries;

namespace Releasekit.Server.Ideas;

/// <summary>Every route of ideas, notes and wants.</summary>
internal static class IdeaRoutes
{
    public static void MapIdeas(this IEndpointRouteBuilder api)
    {
        var kind = new IdeaKind();
        var ideas = api.MapEntries<Idea, IdeaValues, IdeaBody, IdeaFilter>(kind, "Ideas");
        RankIdeas.Map(ideas);
        PromoteIdea.Map(ideas, kind);

        api.MapEntries<Note, NoteValues, NoteBody, NoteFilter>(new NoteKind(), "Notes");
        api.MapEntries<Want, WantValues, WantBody, WantFilter>(new WantKind(), "Wants");
    }
}
