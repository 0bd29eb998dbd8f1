using PatternKit.Sheets;

namespace PatternKit.Cli.Files;

/// <summary>Files that a command leaves in a folder beside whatever is there, each whole or not at all; older ones of their names are replaced.</summary>
internal static class ResultFiles
{
    /// <summary>Writes them.</summary>
    /// <param name="folder">Made when it is not there.</param>
    /// <param name="files">The files.</param>
    /// <returns>Full paths.</returns>
    /// <exception cref="CannotWriteException">They could not be written; none of the new ones is left.</exception>
    public static IReadOnlyList<string> Write(string folder, IReadOnlyList<KitFile> files)
    {
        var fresh = new List<(string Fresh, string Target)>();
        try
        {
            var into = Path.GetFullPath(folder);
            Directory.CreateDirectory(into);
            foreach (var file in files)
            {
                var target = Path.Combine(into, file.Name);
                fresh.Add(($"{target}.{Path.GetRandomFileName()}.new", target));
                File.WriteAllBytes(fresh[^1].Fresh, file.Content);
            }

            foreach (var (from, to) in fresh) File.Move(from, to, true);
            return [.. fresh.Select(f => f.Target)];
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            foreach (var (from, _) in fresh) Forget(from);
            throw new CannotWriteException($"nothing can be written into {folder}: {e.Message} Give another place with --out, or free this one.", e);
        }
    }

    private static void Forget(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be written often cannot be removed either; the first failure is the one to tell.
        }
    }
}
