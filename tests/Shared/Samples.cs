using System.Collections.Concurrent;
using System.Globalization;
using System.Runtime.CompilerServices;
using CsCheck;

// Above every test's namespace, so that these are found before the library's methods of the same name.
namespace PatternKit;

/// <summary>
/// Invariants under random input, with the same samples in every run: a build that failed can be run again, and one that passed says the
/// same tomorrow. The environment variable <c>SAMPLES</c> chooses another series by its number (0 if unset).
/// </summary>
internal static class Samples
{
    private static readonly ulong Series = ulong.Parse(Environment.GetEnvironmentVariable("SAMPLES") ?? "0", CultureInfo.InvariantCulture);

    /// <param name="gen">Where the samples come from.</param>
    /// <param name="check">Throws where the invariant does not hold.</param>
    /// <param name="iter">How many samples.</param>
    /// <param name="threads">1 for one after the other.</param>
    /// <param name="print">How a sample that failed is shown.</param>
    /// <param name="seed">One sample alone, by the seed that a failure named.</param>
    /// <param name="test">Each test draws its own.</param>
    public static void Sample<T>(
        this Gen<T> gen, Action<T> check, int iter = 100, int threads = -1, Func<T, string>? print = null, string? seed = null, [CallerMemberName] string test = "")
    {
        var failed = new ConcurrentDictionary<int, (string Sample, Exception Why)>();
        Parallel.For(0, seed is null ? iter : 1, new ParallelOptions { MaxDegreeOfParallelism = threads }, k =>
        {
            var pcg = seed is null ? new PCG((uint)k, Hash(test) + Series) : PCG.Parse(seed);
            var from = pcg.ToString(pcg.State);
            var sample = gen.Generate(pcg, null, out _);
            try
            {
                check(sample);
            }
            catch (Exception e) when (e is not OutOfMemoryException)
            {
                failed[k] = ($"seed \"{from}\": {(print is null ? Check.Print(sample) : print(sample))}", e);
            }
        });
        if (failed.IsEmpty)
            return;
        var text = failed.OrderBy(f => f.Key).Select(f => $"{f.Value.Sample}{Environment.NewLine}{f.Value.Why.Message}");
        throw new InvalidOperationException(
            $"{failed.Count} of {(seed is null ? iter : 1)} samples{Environment.NewLine}{string.Join(Environment.NewLine, text)}", failed.MinBy(f => f.Key).Value.Why);
    }

    public static void Sample<T1, T2>(
        this Gen<(T1, T2)> gen, Action<T1, T2> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2), iter, threads, null, seed, test);

    public static void Sample<T1, T2, T3>(
        this Gen<(T1, T2, T3)> gen, Action<T1, T2, T3> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2, t.Item3), iter, threads, null, seed, test);

    public static void Sample<T1, T2, T3, T4>(
        this Gen<(T1, T2, T3, T4)> gen, Action<T1, T2, T3, T4> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2, t.Item3, t.Item4), iter, threads, null, seed, test);

    public static void Sample<T1, T2, T3, T4, T5>(
        this Gen<(T1, T2, T3, T4, T5)> gen, Action<T1, T2, T3, T4, T5> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2, t.Item3, t.Item4, t.Item5), iter, threads, null, seed, test);

    public static void Sample<T1, T2, T3, T4, T5, T6>(
        this Gen<(T1, T2, T3, T4, T5, T6)> gen, Action<T1, T2, T3, T4, T5, T6> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2, t.Item3, t.Item4, t.Item5, t.Item6), iter, threads, null, seed, test);

    public static void Sample<T1, T2, T3, T4, T5, T6, T7>(
        this Gen<(T1, T2, T3, T4, T5, T6, T7)> gen, Action<T1, T2, T3, T4, T5, T6, T7> check, int iter = 100, int threads = -1, string? seed = null, [CallerMemberName] string test = "") =>
        gen.Sample(t => check(t.Item1, t.Item2, t.Item3, t.Item4, t.Item5, t.Item6, t.Item7), iter, threads, null, seed, test);

    // string.GetHashCode differs from run to run (FNV-1a, 64 bits).
    private static ulong Hash(string test) => test.Aggregate(14695981039346656037, (h, c) => unchecked((h ^ c) * 1099511628211));
}
