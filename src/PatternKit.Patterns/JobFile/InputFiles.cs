using System.Collections.Immutable;
using System.Security.Cryptography;
using PatternKit.Exchange;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// The only door from a job to the disk. Files are read once, whole, up to a size; a job reaches only what lies in
/// its own folder, and job files in folders right beside, so that a job from a stranger cannot pull in other files. Each file read is kept with its SHA-256.
/// </summary>
internal sealed class InputFiles(string folder)
{
    /// <summary>Largest job file.</summary>
    public const int LargestJob = 1 << 20;

    /// <summary>Largest drawing.</summary>
    public const int LargestDrawing = 64 << 20;

    // All drawings of a job together.
    private const long LargestTotal = 256L << 20;

    private readonly ImmutableArray<InputFile>.Builder _read = ImmutableArray.CreateBuilder<InputFile>();

    /// <summary>What has been read, in order.</summary>
    public ImmutableArray<InputFile> Read => _read.ToImmutable();

    /// <summary>Reads the job file itself, wherever the user put it.</summary>
    public byte[] Job(string path) => Load(path, path, LargestJob, problem => new InputException(path, "", problem));

    /// <summary>Reads a file that the job names.</summary>
    /// <param name="name">As written in the job: relative to its folder, parts joined by "/".</param>
    /// <param name="refuse">Makes the error at the line that names it.</param>
    public byte[] Drawing(string name, Func<string, InputException> refuse)
    {
        var path = Way(folder, name, name, "the job's folder", refuse);
        if (_read.Sum(f => f.Bytes) > LargestTotal) throw refuse("the drawings of this job are more than 256 MB together; use fewer or smaller ones.");
        return Load(path, name, LargestDrawing, refuse);
    }

    /// <summary>The door of another job that this one names: a job file in this folder or in one right beside it. It reaches its own folder alone, as any job does.</summary>
    /// <param name="name">As written in the job: "gland.toml", or "../gland-flange/job.toml".</param>
    /// <param name="refuse">Makes the error at the line that names it.</param>
    public InputFiles Beside(string name, Func<string, InputException> refuse)
    {
        const string up = "../";
        if (!name.EndsWith(".toml", StringComparison.OrdinalIgnoreCase)) throw refuse($"\"{Show.Short(name)}\" is no job file; name one that ends in .toml.");
        var isBeside = name.StartsWith(up, StringComparison.Ordinal);
        if (isBeside && (name.Count(c => c == '/') != 2 || Path.GetDirectoryName(folder) is null))
            throw refuse($"\"{Show.Short(name)}\" is neither in this job's folder nor in one right beside it; write such as \"../gland-flange/job.toml\".");
        var path = Way(isBeside ? Path.GetDirectoryName(folder)! : folder, isBeside ? name[up.Length..] : name, name, "the folders beside the job", refuse);
        return File.Exists(path) ? new(Path.GetDirectoryName(path)!) : throw refuse($"there is no file \"{Show.Short(name)}\" here; check its name and the folder.");
    }

    /// <summary>The path of a plain name below a folder, with no link on the way.</summary>
    private static string Way(string from, string below, string name, string within, Func<string, InputException> refuse)
    {
        var parts = below.Split('/');
        if (name.Length > 200 || name.Any(char.IsControl)) throw refuse("the file name is too long or has control characters.");
        if (name.Contains('\\', StringComparison.Ordinal)) throw refuse($"\"{Show.Short(name)}\" has a backslash; part folders with \"/\".");
        if (Path.IsPathRooted(below) || name.Contains(':', StringComparison.Ordinal) || parts.Any(p => p is "" or "." or ".."))
            throw refuse($"\"{Show.Short(name)}\" leads out of {within} or is not a plain name; put the file beside the job and name it relative to it.");
        var path = from;
        foreach (var part in parts)
        {
            path = Path.Combine(path, part);
            FileSystemInfo info = Directory.Exists(path) ? new DirectoryInfo(path) : new FileInfo(path);
            if (info.LinkTarget is not null)
                throw refuse($"\"{Show.Short(name)}\" goes through a symbolic link, which may lead out of {within}; put the file itself there.");
        }

        return path;
    }

    private byte[] Load(string path, string name, int limit, Func<string, InputException> refuse)
    {
        byte[] content;
        try
        {
            if (Directory.Exists(path)) throw refuse($"\"{Show.Short(name)}\" is a folder, not a file.");
            if (!File.Exists(path)) throw refuse($"there is no file \"{Show.Short(name)}\" here; check its name and the folder.");
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            content = Bounded(stream, limit) ?? throw refuse($"\"{Show.Short(name)}\" is larger than {limit >> 20} MB; reduce it.");
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw refuse($"\"{Show.Short(name)}\" cannot be read: {e.Message}");
        }

        _read.Add(new(name, content.Length, Convert.ToHexStringLower(SHA256.HashData(content))));
        return content;
    }

    // By what comes, not by the length that the system claims: a device or a growing file has none.
    private static byte[]? Bounded(Stream stream, int limit)
    {
        using var all = new MemoryStream();
        var buffer = new byte[81920];
        for (int n; (n = stream.Read(buffer)) > 0;)
        {
            if (all.Length + n > limit) return null;
            all.Write(buffer, 0, n);
        }

        return all.ToArray();
    }
}
