using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.Search;

/// <summary>Where search looks: one row for everything that can be found, and the words that occur at all.</summary>
internal static class SearchTables
{
    public const string Entries = "releasekit.search_entries";
    public const string Words = "releasekit.search_words";

    /// <summary>What the tables need of PostgreSQL, from its own contributed modules.</summary>
    public static readonly string[] Extensions = ["pg_trgm", "fuzzystrmatch"];

    public static Table EntriesTable(string schema)
    {
        var table = new Table(Named(schema, "search_entries"));
        table.AddColumn<string>("publisher").AsPrimaryKey();
        table.AddColumn<string>("kind").AsPrimaryKey();
        table.AddColumn<Guid>("id").AsPrimaryKey();
        table.AddColumn("address", "text").NotNull();
        table.AddColumn("title", "text").NotNull();
        table.AddColumn("body", "text").NotNull();
        table.AddColumn("folded_title", "text").NotNull();
        table.AddColumn("terms", "tsvector").NotNull();
        table.AddColumn("changed_at", "timestamptz").NotNull();
        table.Indexes.Add(new IndexDefinition("ix_search_terms") { Columns = ["terms"], Method = IndexMethod.gin });
        table.Indexes.Add(new IndexDefinition("ix_search_likeness")
        {
            Columns = ["folded_title"],
            Method = IndexMethod.gin,
            Mask = "? gin_trgm_ops",
        });
        table.Indexes.Add(new IndexDefinition("ix_search_latest") { Columns = ["publisher", "changed_at desc"] });
        return table;
    }

    public static Table WordsTable(string schema)
    {
        var table = new Table(Named(schema, "search_words"));
        table.AddColumn<string>("publisher").AsPrimaryKey();
        table.AddColumn("word", "text").AsPrimaryKey();
        table.Indexes.Add(new IndexDefinition("ix_search_words_prefix")
        {
            Columns = ["publisher", "word text_pattern_ops"],
        });
        return table;
    }

    private static PostgresqlObjectName Named(string schema, string name) =>
        new(schema, name, SchemaUtils.IdentifierUsage.General);
}
