using System.Diagnostics;
using PatternKit.Exchange.Dxf;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>
/// Drawings by other hands, fetched by tests/fetch-corpus.sh (or the folder that PATTERNKIT_DXF_CORPUS names) and never
/// kept here: each gives a result or a clear refusal, in time.
/// </summary>
public sealed class DxfCorpusTests
{
    private static readonly TimeSpan LimitForOne = TimeSpan.FromSeconds(60);

    [Fact]
    public void Drawings_by_other_hands_never_crash_the_reader()
    {
        var folder = Environment.GetEnvironmentVariable("PATTERNKIT_DXF_CORPUS") ?? Path.Combine(RepositoryFiles.Root, "tests", "corpus");
        var files = Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*.dxf", new EnumerationOptions { RecurseSubdirectories = true, MatchCasing = MatchCasing.CaseInsensitive }).Order(StringComparer.Ordinal).ToList() : [];
        if (files.Count == 0)
        {
            if (RepositoryFiles.MustRunAll) Assert.Fail($"There are no drawings in {folder}; run tests/fetch-corpus.sh.");
            Assert.Skip("There are no drawings by other hands; run tests/fetch-corpus.sh to fetch them.");
        }

        var (read, curves, refusals) = (0, 0, new List<string>());
        foreach (var file in files)
        {
            var name = Path.GetRelativePath(folder, file);
            var watch = Stopwatch.StartNew();
            try
            {
                var result = DxfReader.Read(File.ReadAllBytes(file), name);
                read++;
                curves += result.Value.Curves.Length;
                Chain(result.Value, name, refusals);
            }
            catch (InputException refused)
            {
                Assert.StartsWith(name, refused.Message, StringComparison.Ordinal);
                refusals.Add(refused.Message);
            }
            catch (Exception crash)
            {
                Assert.Fail($"{name}: {crash}");
            }

            Assert.True(watch.Elapsed < LimitForOne, $"{name} took {watch.Elapsed}");
        }

        TestContext.Current.TestOutputHelper?.WriteLine($"{files.Count} files, {read} read, {curves} curves, {refusals.Count} refusals:");
        foreach (var refusal in refusals) TestContext.Current.TestOutputHelper?.WriteLine(refusal);
        // A reader that refuses everything would pass too.
        Assert.True(read >= 0.99 * files.Count, $"only {read} of {files.Count} files were read: {string.Join('\n', refusals.Take(20))}");
    }

    private static void Chain(DxfDrawing drawing, string name, List<string> refusals)
    {
        foreach (var layer in drawing.Layers)
        {
            try
            {
                var loops = LoopChaining.Chain(drawing.Curves.Where(c => c.Layer == layer), 1e-4, name).Value;
                LoopCheck.Faults(loops, 0.01);
            }
            catch (InputException refused)
            {
                // Most of these drawings are no outlines.
                Assert.StartsWith(name, refused.Message, StringComparison.Ordinal);
            }
        }
    }
}
