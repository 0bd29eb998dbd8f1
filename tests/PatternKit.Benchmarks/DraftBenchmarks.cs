using BenchmarkDotNet.Attributes;
using PatternKit.Geometry.Tests.Reference;

namespace PatternKit.Benchmarks;

/// <summary>The product's draft alone, measured with care.</summary>
[MemoryDiagnoser]
public class DraftBenchmarks
{
    private ReferencePart? _part;

    /// <summary>Every part of tests/cases/parts.</summary>
    public static IEnumerable<string> Parts => ReferencePart.Names;

    [ParamsSource(nameof(Parts))]
    public string Part { get; set; } = "";

    [GlobalSetup]
    public void Load() => _part = ReferencePart.Load(Part);

    /// <summary>From polygons to closed mesh.</summary>
    [Benchmark]
    public double Draft() => DraftUnderTest.Build(_part!).Volume_mm3;
}
