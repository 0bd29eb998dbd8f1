using System.Diagnostics;
using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Exchange.Stl;
using PatternKit.Foundry;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Mesh.Mending;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Terrain;
using PatternKit.Geometry.Tests.Terrain;
using PatternKit.Patterns.Meshes;

namespace PatternKit.Benchmarks;

/// <summary>
/// How the way of a mesh grows with its triangles: one free-form body, meshed ever finer, written to STL and read back, mended and checked, the best of
/// the directions it could lie in found, and both halves drafted. Once each, from the smallest, so that the last has all the memory.
/// </summary>
internal static class ScaleTable
{
    private const double Tolerance_mm = 0.05, Draft_deg = 2, Bytes_MB = 1e6, Mebibyte = 1024 * 1024;

    // Around an animal, and half as many rings: as many facets as the square of it, nearly.
    private static readonly int[] Around = [100, 316, 1001];

    /// <summary>Prints a row for every size, and the growth from each to the next.</summary>
    public static void Print(TextWriter output)
    {
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"A free-form mesh read from STL, checked, laid and drafted by {Draft_deg}° within {Tolerance_mm} mm, both halves; seconds, and processor seconds of both cores"));
        output.WriteLine($"{"triangles",-12}{"read",8}{"MB/s",8}{"mend",8}{"lie",8}{"thin",8}{"rank",8}{"draft",8}{"sum",9}{"cpu",8}{"facets",9}{"peak MiB",10}");
        Stages? before = null;
        // What the compiler and the tables take is in no row.
        _ = Run(FreeForms.Animal(40, 20));
        foreach (var around in Around)
        {
            var s = Run(FreeForms.Animal(around, around / 2));
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{s.Triangles,-12}{s.Read_s,8:0.000}{s.File_MB / s.Read_s,8:0}{s.Mend_s,8:0.00}{s.Lie_s,8:0.00}{s.Thin_s,8:0.00}{s.Rank_s,8:0.00}{s.Draft_s,8:0.00}{s.Sum_s,9:0.00}{s.Cpu_s,8:0.00}{s.Facets,9}{s.Peak_MiB,10:0}"));
            if (before is { } b)
                output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  {(double)s.Triangles / b.Triangles:0.0} times the triangles in {s.Sum_s / b.Sum_s:0.0} times the time"));
            before = s;
        }

        output.WriteLine();
    }

    private static Stages Run(TriangleMesh body)
    {
        var file = StlWriter.Write(body, "scale");
        using var process = Process.GetCurrentProcess();
        var cpu_s = process.TotalProcessorTime.TotalSeconds;
        var clock = new Stopwatch();
        var read_s = Timed(() => MeshFile.Read(file, "scale.stl", 1).Value, out var read);
        var mend_s = Timed(() => MeshMending.Mend(read), out var mended);
        if (!mended.Report.IsMended) throw new InvalidOperationException("The mesh is sound and was not found so.");
        var mesh = mended.Mesh;
        var lie_s = Timed(() => MeshLie.Of(mesh, new(0, 0, 1), null, DraftRule.UsualSkin, FoundryTables.Default.Lying, FoundryTables.Default.Draft), out var lie);
        lie_s += Timed(() => MeshFindings.Of(lie).Length, out _);
        var thin_s = Timed(() => MeshThinMetal.Thinnest(mesh, FoundryTables.Default).Length, out _);
        var rank_s = Timed(() => MeshLies.Rank(mesh, DraftRule.UsualSkin, FoundryTables.Default.Lying, FoundryTables.Default.Draft), out _);
        var draft_s = Timed(() => Half(mesh, lie.Joint_mm) + Half(mesh.MirroredBy(v => v with { Z = -v.Z }), -lie.Joint_mm), out var facets);
        process.Refresh();
        return new(mesh.Facets.Length, file.Length / Bytes_MB, read_s, mend_s, lie_s, thin_s, rank_s, draft_s, process.TotalProcessorTime.TotalSeconds - cpu_s, facets, process.PeakWorkingSet64 / Mebibyte);

        double Timed<T>(Func<T> work, out T result)
        {
            clock.Restart();
            result = work();
            return clock.Elapsed.TotalSeconds;
        }
    }

    private static int Half(TriangleMesh mesh, double joint_mm)
    {
        var lattice = Lattice.For(127);
        var terrain = MeshTerrain.Of(mesh, lattice.Snap(joint_mm), Draft_deg * Math.PI / 180, lattice, Tolerance_mm);
        return TerrainSolid.Build(terrain, null, [], [], lattice, new(Tolerance_mm)).Facets.Length;
    }

    private sealed record Stages(
        int Triangles, double File_MB, double Read_s, double Mend_s, double Lie_s, double Thin_s, double Rank_s, double Draft_s, double Cpu_s, int Facets, double Peak_MiB)
    {
        public double Sum_s => Read_s + Mend_s + Lie_s + Thin_s + Rank_s + Draft_s;
    }
}
