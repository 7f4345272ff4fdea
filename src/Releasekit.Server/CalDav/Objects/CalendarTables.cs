using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.CalDav.Objects;

/// <summary>
/// The objects as they are served, and the counter of each collection: an object has the revision at which its bytes
/// last changed; one that is gone stays as a tombstone without bytes.
/// </summary>
internal static class CalendarTables
{
    public const string Objects = "calendar_objects";
    public const string Collections = "calendar_collections";

    /// <summary>Forgets everything of a publisher.</summary>
    public static readonly IReadOnlyList<string> ForgetPublisherSql =
    [
        $"delete from releasekit.{Objects} where publisher = ?",
        $"delete from releasekit.{Collections} where publisher = ?",
    ];

    public static Table ObjectsTable(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, Objects, SchemaUtils.IdentifierUsage.General));
        table.AddColumn<string>("publisher").AsPrimaryKey();
        table.AddColumn<string>("collection").AsPrimaryKey();
        table.AddColumn<string>("name").AsPrimaryKey();
        table.AddColumn<string>("uid").NotNull();
        table.AddColumn<long>("revision").NotNull();
        table.AddColumn("body", "bytea");
        table.AddColumn("changed_at", "timestamptz").NotNull();
        table.Indexes.Add(new IndexDefinition($"{Objects}_by_revision")
        {
            Columns = ["publisher", "collection", "revision"],
        });
        return table;
    }

    public static Table CollectionsTable(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, Collections, SchemaUtils.IdentifierUsage.General));
        table.AddColumn<string>("publisher").AsPrimaryKey();
        table.AddColumn<string>("collection").AsPrimaryKey();
        table.AddColumn<long>("revision").NotNull();
        table.AddColumn<Guid>("epoch").NotNull();
        table.AddColumn<string>("mark").NotNull();
        return table;
    }
}
