using System.Diagnostics;
using System.Globalization;

namespace PatternKit.Benchmarks;

/// <summary>Time and memory of a whole kit. The first run has the compiler's work in it, of which a release build of the program is spared most.</summary>
internal static class KitFigures
{
    private const double Mebibyte = 1024 * 1024;

    /// <summary>Prints the first run, the best of several, what each allocated, and the most memory that the process ever held.</summary>
    public static void Print(bool quick, TextWriter output)
    {
        using var process = Process.GetCurrentProcess();
        var before_MiB = process.PeakWorkingSet64 / Mebibyte;
        var first = Once();
        process.Refresh();
        var peak_MiB = process.PeakWorkingSet64 / Mebibyte;
        var best = Enumerable.Range(0, quick ? 12 : 30).Select(_ => Once()).MinBy(r => r.Seconds);
        output.WriteLine("lever-bracket template from job file to rendered kit, in memory");
        output.WriteLine(string.Create(CultureInfo.InvariantCulture,
            $"first run {first.Seconds:0.000} s, {first.Allocated_MiB:0.0} MiB allocated, peak {peak_MiB:0} MiB resident ({before_MiB:0} MiB before); best {best.Seconds:0.000} s, {best.Allocated_MiB:0.0} MiB allocated; {best.Bytes} bytes of files"));
        output.WriteLine();
    }

    private static (double Seconds, double Allocated_MiB, long Bytes) Once()
    {
        var allocated = GC.GetTotalAllocatedBytes(precise: true);
        var clock = Stopwatch.StartNew();
        var bytes = KitUnderTest.Make();
        var seconds = clock.Elapsed.TotalSeconds;
        return (seconds, (GC.GetTotalAllocatedBytes(precise: true) - allocated) / Mebibyte, bytes);
    }
}
