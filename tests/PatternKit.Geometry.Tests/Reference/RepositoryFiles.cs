namespace PatternKit.Geometry.Tests.Reference;

/// <summary>Finds files of the source tree from a running test.</summary>
internal static class RepositoryFiles
{
    /// <summary>The folder that holds the solution.</summary>
    public static string Root { get; } = FindRoot();

    /// <summary>Full path of a file or folder named from the root, with forward slashes.</summary>
    public static string Path(string fromRoot) => System.IO.Path.Combine(Root, fromRoot);

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(System.IO.Path.Combine(folder.FullName, "PatternKit.sln")))
                return folder.FullName;
        throw new DirectoryNotFoundException($"No PatternKit.sln above {AppContext.BaseDirectory}: run from a source tree.");
    }
}
