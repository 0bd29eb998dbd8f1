// Measures the draft: dotnet run -c Release --project tests/PatternKit.Benchmarks -- [--quick] [part …]
// First every template by the program as it is started, then a whole kit with its memory, then how a mesh scales, then the ratio to the mesh reference, of meshes and of the parts named or all, then
// BenchmarkDotNet's figures of all. "templates", "scale", "meshes" and "rounding" name one table each: with one of them, or parts, named, no others are printed.
// --quick: fewer runs, and BenchmarkDotNet's figures are left out.
using BenchmarkDotNet.Configs;
using BenchmarkDotNet.Jobs;
using BenchmarkDotNet.Running;
using PatternKit.Benchmarks;
using PatternKit.Geometry.Tests.Reference;

const string Templates = "templates", Scale = "scale", Meshes = "meshes", Rounding = "rounding";
var quick = args.Contains("--quick");
var named = args.Where(a => a != "--quick").ToList();
string[] known = [.. ReferencePart.Names, Templates, Scale, Meshes, Rounding];
if (named.Except(known).FirstOrDefault() is { } unknown)
{
    Console.Error.WriteLine($"There is no part {unknown}; there are {string.Join(", ", known)}.");
    return 2;
}

var parts = named.Count > 0 ? named.Intersect(ReferencePart.Names).ToList() : [.. ReferencePart.Names];

if (ManifoldReference.WhyMissing is { } why)
{
    Console.Error.WriteLine(why);
    return 2;
}

if (named.Count == 0 || named.Contains(Templates)) TemplateTable.Print(quick, Console.Out);
// Before others, while the process has used no memory for anything else.
if (parts.Count > 0) KitFigures.Print(quick, Console.Out);
if (named.Count == 0 || named.Contains(Scale)) ScaleTable.Print(Console.Out);
if (named.Count == 0 || named.Contains(Meshes)) MeshRatioTable.Print(quick, Console.Out);
if (parts.Count > 0 || named.Contains(Rounding)) RoundingTable.Print(quick, Console.Out);
if (parts.Count == 0) return 0;
RatioTable.Print(parts, quick, Console.Out);
if (!quick) BenchmarkRunner.Run([typeof(DraftBenchmarks), typeof(KitBenchmarks)], DefaultConfig.Instance.AddJob(Job.Default));
return 0;
