using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Patterns;
using PatternKit.Patterns.JobFile;

namespace PatternKit.Cli.Files;

/// <summary>A job with the tables that hold for it.</summary>
internal sealed record JobSource(Job Job, FoundryTables Tables)
{
    /// <summary>Whether the argument means a job rather than a part: a folder or a TOML file.</summary>
    public static bool IsJob(string argument) =>
        Directory.Exists(argument) || string.Equals(Path.GetExtension(argument), ".toml", StringComparison.OrdinalIgnoreCase);

    /// <summary>Reads a job and the shop files, the user's and the one beside it.</summary>
    /// <param name="argument">A job file, or the folder of a <c>job.toml</c>.</param>
    /// <param name="userFolder">Configuration folder; the user's own when left out.</param>
    /// <exception cref="InputException">The job, a drawing or a shop file cannot be used.</exception>
    public static JobSource Read(string argument, string? userFolder = null)
    {
        if (argument.Length == 0 || argument.Contains('\0', StringComparison.Ordinal)) throw new InputException("job", "", "the name of the job is empty or no file name; name a job.toml or its folder.");
        var path = argument;
        if (Directory.Exists(argument))
        {
            path = Path.Combine(argument, "job.toml");
            if (!File.Exists(path)) throw new InputException(argument, "", "this folder holds no job.toml; name the job file itself, or make a job with \"patternkit new\".");
        }

        var (tables, shop) = ShopFile.Beside(path, userFolder);
        var job = JobReader.Read(path, new([.. tables.Alloys.SelectMany(a => a.Aliases.Insert(0, a.Key))], [.. tables.Sands.Select(s => s.Key)]) { AlloyTitles = [.. tables.Alloys.Select(a => (a.Key, a.Title))] });
        return new(job with { Inputs = job.Inputs.AddRange(shop) }, tables);
    }
}
