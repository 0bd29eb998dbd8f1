namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Finds the files of the repository from where the tests run.</summary>
internal static class RepositoryFiles
{
    public static string Root { get; } = FindRoot();

    public static string Case(string name) => Path.Combine(Root, "tests", "cases", "dxf", name);

    /// <summary>Whether missing tools fail a test instead of skipping it.</summary>
    public static bool MustRunAll => Environment.GetEnvironmentVariable("CI") == "true";

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "PatternKit.sln"))) return folder.FullName;
        throw new DirectoryNotFoundException("The tests do not run inside the repository.");
    }
}
