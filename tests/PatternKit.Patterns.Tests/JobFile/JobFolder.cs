using PatternKit.Patterns.JobFile;

namespace PatternKit.Patterns.Tests.JobFile;

/// <summary>A folder of its own for the files of one test, removed with it.</summary>
internal sealed class JobFolder : IDisposable
{
    public const string Head = "title = \"Cover plate\"\nunit = \"mm\"\nalloy = \"AlSi7Mg\"\nsand = \"oil-bonded\"\n";
    public const string Disc = "[[part]]\nshape = { circle = 40 }\nz = [0, 12]\n";

    public string Folder { get; } = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

    /// <summary>Folder of the repository that holds ready files, found from the place of the tests upward.</summary>
    public static string Repository(params string[] path)
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "PatternKit.sln"))) folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run outside the repository.");
        return Path.Combine([folder, .. path]);
    }

    public string Put(string name, string text)
    {
        var path = Path.Combine(Folder, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllText(path, text);
        return path;
    }

    /// <summary>Reads a job of this text.</summary>
    public static Job Read(string text)
    {
        using var folder = new JobFolder();
        return JobReader.Read(folder.Put("job.toml", text));
    }

    /// <summary>Reads a job of this text after the head, with a mesh in part.obj.</summary>
    public static Job Read(string obj, string rest)
    {
        using var folder = new JobFolder();
        folder.Put("part.obj", obj);
        return JobReader.Read(folder.Put("job.toml", Head + rest));
    }

    public void Dispose() => Directory.Delete(Folder, true);
}
