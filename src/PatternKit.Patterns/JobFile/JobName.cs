namespace PatternKit.Patterns.JobFile;

/// <summary>Names that are safe as a folder on every common system.</summary>
public static class JobName
{
    // Reserved by Windows whatever the extension ("Naming Files, Paths, and Namespaces").
    private static readonly HashSet<string> Reserved = new(
        ["con", "prn", "aux", "nul", .. Enumerable.Range(0, 10).SelectMany(i => new[] { $"com{i}", $"lpt{i}" })], StringComparer.OrdinalIgnoreCase);

    /// <summary>
    /// A name of letters, digits, ".", "_" and "-", at most 60 long, not starting or ending in a mark, not a reserved one.
    /// </summary>
    public static string Safe(string text)
    {
        var kept = string.Concat(text.Select(c => char.IsLetterOrDigit(c) || c is '.' or '_' or '-' ? c : '-'));
        while (kept.Contains("--", StringComparison.Ordinal)) kept = kept.Replace("--", "-", StringComparison.Ordinal);
        kept = kept.Trim('-', '.', '_');
        if (kept.Length > 60) kept = kept[..60].TrimEnd('-', '.', '_');
        if (kept.Length == 0) return "job";
        return Reserved.Contains(kept.Split('.')[0]) ? "job-" + kept : kept;
    }

    /// <summary>The folder's name for a <c>job.toml</c>, else the file's name.</summary>
    public static string Of(string jobPath)
    {
        var full = Path.GetFullPath(jobPath);
        var file = Path.GetFileNameWithoutExtension(full);
        return Safe(string.Equals(file, "job", StringComparison.OrdinalIgnoreCase)
            ? Path.GetFileName(Path.GetDirectoryName(full) ?? "") ?? ""
            : file);
    }
}
