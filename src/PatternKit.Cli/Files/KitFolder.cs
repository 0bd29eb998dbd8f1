using PatternKit.Patterns.JobFile;
using PatternKit.Sheets;

namespace PatternKit.Cli.Files;

/// <summary>
/// Folders that appear whole or not at all: written beside their place under another name, then renamed.
/// </summary>
internal static class KitFolder
{
    /// <summary>The file by which a folder is known to be a kit, and may be replaced by a newer one.</summary>
    public const string Sign = "kit.json";

    /// <summary>Writes a kit in the place of an older one.</summary>
    /// <param name="parentDir">Folder that the kit's folder lies in; made when it is not there.</param>
    /// <param name="name">Name of the kit's folder.</param>
    /// <param name="files">What lies in it.</param>
    /// <returns>Full path of the folder.</returns>
    /// <exception cref="CannotWriteException">It could not be written, or what stands there is no kit.</exception>
    public static string Write(string parentDir, string name, IReadOnlyList<KitFile> files) => Appear(parentDir, name, files, true);

    /// <summary>Writes a folder where there is none yet.</summary>
    /// <exception cref="CannotWriteException">It could not be written, or there is something of that name.</exception>
    public static string Create(string parentDir, string name, IReadOnlyList<KitFile> files) => Appear(parentDir, name, files, false);

    private static string Appear(string parentDir, string name, IReadOnlyList<KitFile> files, bool replace)
    {
        Demand(name, files);
        var parent = Path.GetFullPath(parentDir);
        var target = Path.Combine(parent, name);
        var mark = Path.GetRandomFileName();
        var (fresh, old) = (Path.Combine(parent, $".{name}.{mark}.new"), Path.Combine(parent, $".{name}.{mark}.old"));
        var madeParents = Missing(parent);
        var done = false;
        try
        {
            DemandPlace(target, replace);
            DemandFolder(parent, target);
            Directory.CreateDirectory(fresh);
            foreach (var file in files) File.WriteAllBytes(Path.Combine(fresh, file.Name), file.Content);
            var replaced = Directory.Exists(target);
            if (replaced) Directory.Move(target, old);
            try
            {
                Directory.Move(fresh, target);
                done = true;
            }
            finally
            {
                if (!done && replaced) Directory.Move(old, target);
            }

            if (replaced) Directory.Delete(old, true);
            return target;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw done
                ? new CannotWriteException($"{target} is written, but the older one could not be removed and is now {old}: {e.Message}", e)
                : new CannotWriteException($"{target} cannot be written: {e.Message} Nothing is left of it; give another place with --out, or free this one.", e);
        }
        finally
        {
            if (!done) Forget(fresh, madeParents);
        }
    }

    // The system's own words for these ("could not find file") mislead.
    private static void DemandFolder(string parent, string target)
    {
        for (string? f = parent; f is not null; f = Path.GetDirectoryName(f))
            if (File.Exists(f)) throw new CannotWriteException($"{target} cannot be written: {f} is not a folder. Give another place with --out.");
        try
        {
            Directory.CreateDirectory(parent);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            var why = e is UnauthorizedAccessException ? "you may not write there" : "the system does not let a folder be made there";
            throw new CannotWriteException($"{target} cannot be written: the folder {parent} cannot be made; {why}. Give another place with --out.", e);
        }
    }

    private static void DemandPlace(string target, bool replace)
    {
        if (File.Exists(target)) throw new CannotWriteException($"{target} is a file; move it away, or choose another place.");
        if (!Directory.Exists(target)) return;
        if (!replace) throw new CannotWriteException($"{target} is there already and is left as it is; choose another name.");
        // A folder of the user's that happens to bear the job's name, such as the job's own, must not be lost.
        var isKit = new DirectoryInfo(target).LinkTarget is null && File.Exists(Path.Combine(target, Sign)) && Directory.GetFiles(target, "*.toml").Length == 0;
        if (!isKit && Directory.EnumerateFileSystemEntries(target).Any())
            throw new CannotWriteException($"{target} is there already and is no kit (a kit holds {Sign} and no job); it is left as it is. Choose another place with --out.");
    }

    // Names are made by the program: a bad one is a defect, not the user's.
    private static void Demand(string name, IReadOnlyList<KitFile> files)
    {
        var names = new HashSet<string>(StringComparer.OrdinalIgnoreCase);
        if (name != JobName.Safe(name)) throw new InvalidOperationException($"\"{name}\" is not a safe folder name.");
        foreach (var file in files)
            if (file.Name != JobName.Safe(file.Name) || !names.Add(file.Name))
                throw new InvalidOperationException($"\"{file.Name}\" is not a safe file name, or is there twice.");
    }

    // The folders above that are not there yet, the innermost first.
    private static List<string> Missing(string folder)
    {
        var missing = new List<string>();
        for (string? f = folder; f is not null && !Directory.Exists(f) && !File.Exists(f); f = Path.GetDirectoryName(f)) missing.Add(f);
        return missing;
    }

    private static void Forget(string fresh, List<string> madeParents)
    {
        try
        {
            if (Directory.Exists(fresh)) Directory.Delete(fresh, true);
            foreach (var folder in madeParents.Where(Directory.Exists)) Directory.Delete(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be written often cannot be removed either; the first failure is the one to tell.
        }
    }
}
