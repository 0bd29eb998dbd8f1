using System.ComponentModel;
using System.Diagnostics;
using System.Text.Json;
using Xunit;

namespace PatternKit;

/// <summary>A text of a page with its box, millimetres from the upper left corner.</summary>
internal sealed record PageText(string Text, double[] Box);

/// <summary>A line of a page.</summary>
internal sealed record PagePath(double[][] Points)
{
    public double Width => Points.Max(p => p[0]) - Points.Min(p => p[0]);

    public double Height => Points.Max(p => p[1]) - Points.Min(p => p[1]);
}

/// <summary>What is on a page.</summary>
internal sealed record PdfPage(double Width, double Height, PageText[] Texts, PagePath[] Paths)
{
    /// <summary>Pairs of texts whose boxes share more than a hair, and texts that leave the page.</summary>
    public IEnumerable<string> Clashes()
    {
        const double hair = 0.05;
        for (var i = 0; i < Texts.Length; i++)
        {
            var a = Texts[i].Box;
            if (a[0] < 0 || a[1] < 0 || a[2] > Width || a[3] > Height) yield return $"leaves the page: {Texts[i].Text}";
            for (var k = i + 1; k < Texts.Length; k++)
            {
                var b = Texts[k].Box;
                if (Math.Min(a[2], b[2]) - Math.Max(a[0], b[0]) > hair && Math.Min(a[3], b[3]) - Math.Max(a[1], b[1]) > hair) yield return $"overlap: “{Texts[i].Text}”, “{Texts[k].Text}”";
            }
        }
    }
}

/// <summary>What checkers say of an HTML page.</summary>
internal sealed record PageVerdict(string[] Html, Dictionary<string, string[]> Axe, Dictionary<string, double> Overflow);

/// <summary>
/// Readers outside the project, run by Node: pdf.js for PDF files; html-validate, and axe-core in Chromium, for HTML (npm packages of tests/reference). Without them a test is
/// skipped aloud, or fails where CI=true.
/// </summary>
internal static class PageReader
{
    private static readonly JsonSerializerOptions Options = new(JsonSerializerDefaults.Web);

    /// <summary>The pages of PDF files, a list for each.</summary>
    public static PdfPage[][] Pdf(params IEnumerable<string> files) => Run<PdfPage[]>("pdf-pages.mjs", "pdfjs-dist", [.. files]);

    /// <summary>The pages of one file that is not on the disk.</summary>
    public static PdfPage[] Pdf(byte[] content)
    {
        var path = Path.Combine(Path.GetTempPath(), $"patternkit-{Guid.NewGuid():N}.pdf");
        try
        {
            File.WriteAllBytes(path, content);
            return Pdf(path)[0];
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>Verdicts on HTML files.</summary>
    public static PageVerdict[] Html(params IEnumerable<string> files)
    {
        var browser = new[] { "/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome" }.FirstOrDefault(File.Exists);
        if (browser is null) Missing("no chromium (Debian package chromium): the accessibility checks did not run.");
        return Run<PageVerdict>("sheet-check.mjs", "puppeteer-core", [browser!, .. files]);
    }

    /// <summary>Ends a test without its tool.</summary>
    public static void Missing(string why)
    {
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(why);
        Assert.Skip(why);
    }

    private static T[] Run<T>(string script, string package, string[] arguments)
    {
        var folder = Reference();
        if (!Directory.Exists(Path.Combine(folder, "node_modules", package))) Missing($"npm package {package} is not installed (npm ci --prefix tests/reference): the check did not run.");
        var start = new ProcessStartInfo("node", [Path.Combine(folder, script), .. arguments]) { RedirectStandardOutput = true, RedirectStandardError = true };
        try
        {
            using var process = Process.Start(start)!;
            var error = process.StandardError.ReadToEndAsync();
            var lines = process.StandardOutput.ReadToEnd().Split('\n', StringSplitOptions.RemoveEmptyEntries);
            process.WaitForExit();
            Assert.True(process.ExitCode == 0, $"{script} ended with {process.ExitCode}: {error.Result}");
            return [.. lines.Select(l => JsonSerializer.Deserialize<T>(l, Options)!)];
        }
        catch (Win32Exception)
        {
            Missing("node is not installed (Debian package nodejs): the check did not run.");
            throw;
        }
    }

    private static string Reference()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "PatternKit.sln"))) return Path.Combine(folder.FullName, "tests", "reference");
        throw new InvalidOperationException("The tests do not run within the repository.");
    }
}
