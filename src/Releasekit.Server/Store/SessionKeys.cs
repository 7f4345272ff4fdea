using System.Xml.Linq;
using Microsoft.AspNetCore.DataProtection.Repositories;
using Npgsql;
using Weasel.Postgresql;
using Weasel.Postgresql.Tables;

namespace Releasekit.Server.Store;

/// <summary>
/// The keys that seal sessions and forms, kept in the database so that every process of the service reads what another
/// one sealed. Whoever can read the database can read them, and everything else in it too.
/// </summary>
internal sealed class SessionKeys(NpgsqlDataSource database) : IXmlRepository
{
    private const string Name = "session_keys";

    public static Table Table(string schema)
    {
        var table = new Table(new PostgresqlObjectName(schema, Name, SchemaUtils.IdentifierUsage.General));
        table.AddColumn<string>("name").AsPrimaryKey();
        table.AddColumn<string>("key").NotNull();
        return table;
    }

    public IReadOnlyCollection<XElement> GetAllElements()
    {
        using var ask = database.Command($"select key from releasekit.{Name}");
        using var rows = ask.ExecuteReader();
        var keys = new List<XElement>();

        while (rows.Read())
        {
            using var text = new StringReader(rows.GetString(0));
            keys.Add(XElement.Load(text));
        }

        return keys;
    }

    public void StoreElement(XElement element, string friendlyName)
    {
        using var write = database.Command(
            $"insert into releasekit.{Name} (name, key) values ($1, $2) on conflict (name) do nothing",
            friendlyName, element.ToString(SaveOptions.DisableFormatting));
        write.ExecuteNonQuery();
    }
}
