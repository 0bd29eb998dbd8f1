using System.Collections.Immutable;
using System.Security.Cryptography;
using System.Text;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns;
using Tomlyn.Parsing;
using Tomlyn.Syntax;

namespace PatternKit.Cli.Files;

/// <summary>
/// The shop's own alloys, sands, cores, pouring, melting, spread and printer, its rows of other tables, its flasks, crucibles, measured castings and mould constants: <c>patternkit/shop.toml</c> in the user's configuration folder, and the <c>shop.toml</c> beside a
/// job or a mesh, whose fields go before the user's.
/// </summary>
internal static class ShopFile
{
    private const string Name = "shop.toml";

    private static readonly string[] Known = ["alloys", "sands", "cores", "pouring", "melting", "spread", "printer", "tables", "flask", "crucible", "cast", "mould_constant"];

    /// <summary>Where users keep their settings: ~/.config or XDG_CONFIG_HOME, on Windows the roaming application data.</summary>
    public static string UserFolder => Environment.GetFolderPath(Environment.SpecialFolder.ApplicationData, Environment.SpecialFolderOption.DoNotVerify);

    /// <summary>The tables with the user's rows merged in, and the file for the list of inputs.</summary>
    /// <param name="userFolder">Configuration folder; the user's own when left out.</param>
    /// <exception cref="InputException">It cannot be read, or holds what this release does not know.</exception>
    /// <exception cref="TableException">A row is wrong.</exception>
    public static (FoundryTables Tables, ImmutableArray<InputFile> Read) OfUser(string? userFolder = null)
    {
        var folder = userFolder ?? UserFolder;
        var path = Path.Combine(folder, "patternkit", Name);
        return folder.Length > 0 && File.Exists(path) ? Merged(FoundryTables.Default, path, $"{Name} of the user") : (FoundryTables.Default, []);
    }

    /// <summary>The tables for a job, or for a part that is a mesh without one, and the files for the list of inputs.</summary>
    /// <param name="filePath">The job file, or the mesh.</param>
    /// <param name="userFolder">Configuration folder; the user's own when left out.</param>
    /// <exception cref="InputException">A file cannot be read, or holds what this release does not know.</exception>
    /// <exception cref="TableException">A row is wrong.</exception>
    public static (FoundryTables Tables, ImmutableArray<InputFile> Read) Beside(string filePath, string? userFolder = null)
    {
        var (tables, read) = OfUser(userFolder);
        var path = Path.Combine(Path.GetDirectoryName(filePath) ?? "", Name);
        if (!File.Exists(path)) return (tables, read);
        if (new FileInfo(path).LinkTarget is not null) throw new InputException(path, "", "it is a symbolic link, which may lead out of its folder; put the file itself there.");
        var (merged, own) = Merged(tables, path, Name);
        return (merged, read.AddRange(own));
    }

    private static (FoundryTables Tables, ImmutableArray<InputFile> Read) Merged(FoundryTables tables, string path, string name)
    {
        var content = WholeFile.Read(path, 1);
        var text = Decode(path, content);
        DemandKnown(path, text);
        return (tables.With(text, path), [new(name, content.Length, Convert.ToHexStringLower(SHA256.HashData(content)))]);
    }

    private static string Decode(string path, byte[] content)
    {
        try
        {
            return new UTF8Encoding(false, true).GetString(content).TrimStart('\uFEFF');
        }
        catch (DecoderFallbackException e)
        {
            throw new InputException(path, $"byte {e.Index}", "the file is not UTF-8 text; save it as UTF-8.");
        }
    }

    // What is not built yet is refused, not ignored: a kit must not silently lack what the shop says.
    private static void DemandKnown(string path, string text)
    {
        DocumentSyntax document;
        try
        {
            document = SyntaxParser.Parse(text, path, true);
        }
        catch (Tomlyn.TomlException)
        {
            return; // The table reader says what is wrong, with the line.
        }

        if (document.HasErrors) return;
        var keys = document.KeyValues.Select(k => (k.Key, k.Span)).Concat(document.Tables.Select(t => (Key: t.Name, t.Span)));
        foreach (var (key, span) in keys)
        {
            var first = key?.Key?.ToString().Trim().Trim('"', '\'') ?? "";
            if (!Known.Contains(first))
                throw new InputException(path, $"line {span.Start.Line + 1}", $"\"{(first.Length > 60 ? first[..60] + "…" : first)}\" is not for a shop file of this release, which reads [alloys.NAME], [sands.NAME], [cores], [pouring], [melting], [spread], [printer], [tables.NAME], [[flask]], [[crucible]], [[cast]] and [[mould_constant]] only. Take it out.");
        }
    }
}
