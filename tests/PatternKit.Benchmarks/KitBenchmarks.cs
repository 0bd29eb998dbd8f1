using BenchmarkDotNet.Attributes;

namespace PatternKit.Benchmarks;

/// <summary>A whole kit, measured with care.</summary>
[MemoryDiagnoser]
public class KitBenchmarks
{
    /// <summary>From job file to rendered kit.</summary>
    [Benchmark(Description = "lever-bracket, job file to rendered kit")]
    public long Kit() => KitUnderTest.Make();
}
