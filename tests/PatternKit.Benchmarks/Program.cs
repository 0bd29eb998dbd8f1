// Measures the draft: dotnet run -c Release --project tests/PatternKit.Benchmarks -- [--quick] [part …]
// First a whole kit with its memory, then the ratio to the mesh reference, of the parts named or all, then BenchmarkDotNet's figures of all.
// --quick: fewer runs, and BenchmarkDotNet's figures are left out.
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Running;
using PatternKit.Benchmarks;
using PatternKit.Geometry.Tests.Reference;

var quick = args.Contains("--quick");
var named = args.Where(a => a != "--quick").ToList();
if (named.Except(ReferencePart.Names).FirstOrDefault() is { } unknown)
{
    Console.Error.WriteLine($"There is no part {unknown}; there are {string.Join(", ", ReferencePart.Names)}.");
    return 2;
}

if (ManifoldReference.WhyMissing is { } why)
{
    Console.Error.WriteLine(why);
    return 2;
}

// First, while the process has used no memory for anything else.
KitFigures.Print(quick, Console.Out);
RoundingTable.Print(quick, Console.Out);
RatioTable.Print(named.Count > 0 ? named : ReferencePart.Names, quick, Console.Out);
if (!quick) BenchmarkRunner.Run([typeof(DraftBenchmarks), typeof(KitBenchmarks)], DefaultConfig.Instance.AddJob(Job.Default));
return 0;
