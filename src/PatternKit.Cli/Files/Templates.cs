using PatternKit.Exchange;
using PatternKit.Sheets;

namespace PatternKit.Cli.Files;

/// <summary>The ready jobs that come with the program, one folder each.</summary>
internal static class Templates
{
    /// <summary>What is taken when none is named.</summary>
    public const string Usual = "lever-bracket";

    private static string Root => Path.Combine(AppContext.BaseDirectory, "templates");

    /// <summary>Names, in alphabetical order.</summary>
    public static IReadOnlyList<string> Names =>
        Directory.Exists(Root) ? [.. Directory.GetDirectories(Root).Select(d => Path.GetFileName(d)).Order(StringComparer.Ordinal)] : [];

    /// <summary>The files of a template.</summary>
    /// <exception cref="InputException">There is no such template; the message lists all.</exception>
    public static IReadOnlyList<KitFile> Read(string name)
    {
        // Looked up in the list, never joined to a path: a name cannot lead elsewhere.
        if (!Names.Contains(name)) throw new InputException("--from", "", $"there is no template \"{name}\". Templates: {string.Join(", ", Names)}.");
        return [.. Directory.GetFiles(Path.Combine(Root, name)).Order(StringComparer.Ordinal).Select(f => new KitFile(Path.GetFileName(f), File.ReadAllBytes(f)))];
    }
}
