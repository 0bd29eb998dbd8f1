using System.Collections.Immutable;
using System.Diagnostics;
using System.Text.Json;
using System.Text.Json.Serialization;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Reference;

/// <summary>How the reference sums the part and the cone; see tests/reference/drafted.mjs.</summary>
internal enum SumMethod
{
    /// <summary>One hull for every edge of every slice: for prisms the same polyhedron, in a fraction of the time.</summary>
    Levels,

    /// <summary>The library's Minkowski sum of the part's mesh.</summary>
    Minkowski,
}

/// <summary>What is asked of the reference beside the volume.</summary>
internal sealed record ReferenceRequest
{
    /// <summary>Facets of the pyramid that stands for the cone.</summary>
    public int ConeFacets { get; init; } = 32;

    public SumMethod Method { get; init; } = SumMethod.Levels;

    /// <summary>Also sum the pyramid around the cone, so that the two volumes enclose the true one.</summary>
    public bool Outer { get; init; }

    public bool Mesh { get; init; }

    /// <summary>Times to run; the seconds are those of the fastest.</summary>
    public int Repeat { get; init; } = 1;

    /// <summary>Plan points at which to give the height of the drafted surface.</summary>
    public IReadOnlyList<Vec2> Samples { get; init; } = [];
}

/// <summary>The drafted body by the reference.</summary>
/// <param name="Volume_mm3">With the inscribed pyramid: at most the true volume of the drafted polygons.</param>
/// <param name="OuterVolume_mm3">With the circumscribed pyramid: at least the true volume; null when not asked.</param>
/// <param name="PartVolume_mm3">The part of that half before draft.</param>
/// <param name="Triangles">Triangles of the body.</param>
/// <param name="Genus">Through holes of the body.</param>
/// <param name="Seconds">The sum alone, without start-up.</param>
/// <param name="Heights">z of the surface at the samples; null where there is no body.</param>
/// <param name="Mesh">Single-precision vertices; null when not asked.</param>
internal sealed record ReferenceBody(
    double Volume_mm3, double? OuterVolume_mm3, double PartVolume_mm3, int Triangles, int Genus, double Seconds,
    ImmutableArray<double?> Heights, TriangleMesh? Mesh);

/// <summary>
/// The drafted body from an independent mesh-boolean library (npm manifold-3d, run by Node), which shares neither
/// code nor method with the product. The pyramid with N facets falls short of the cone: its radius times cos(π/N)
/// at mid-facet, its area times sin(2π/N)·N/2π. A wall may thus lie inside by depth · tan(draft) · (1 − cos(π/N)).
/// </summary>
internal static class ManifoldReference
{
    /// <summary>How long the reference may take.</summary>
    public static readonly TimeSpan TimeLimit = TimeSpan.FromMinutes(3);

    private static readonly JsonSerializerOptions Json = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.SnakeCaseLower,
        Converters = { new JsonStringEnumConverter(JsonNamingPolicy.CamelCase) },
    };

    private static readonly Lazy<string?> Missing = new(FindMissing);

    /// <summary>Why the reference cannot run on this machine, with the remedy; null when it can.</summary>
    public static string? WhyMissing => Missing.Value;

    /// <summary>Drafts the part's half by the reference.</summary>
    /// <exception cref="InvalidOperationException">The reference is missing or failed.</exception>
    /// <exception cref="TimeoutException">It took longer than <see cref="TimeLimit"/>.</exception>
    public static ReferenceBody Draft(ReferencePart part, ReferenceRequest? request = null)
    {
        request ??= new();
        return Asked(Input(part, request));
    }

    /// <summary>Drafts a half of a closed mesh by the reference's own Minkowski sum with the pyramid.</summary>
    /// <exception cref="InvalidOperationException">The reference is missing or failed.</exception>
    /// <exception cref="TimeoutException">It took longer than <see cref="TimeLimit"/>.</exception>
    public static ReferenceBody Draft(TriangleMesh mesh, Half half, double parting, double degrees, int coneFacets, bool outer = false) => Asked(new
    {
        Half = half,
        Parting = parting,
        DraftDeg = degrees,
        ConeFacets = coneFacets,
        Outer = outer,
        Solid = Solid(mesh),
    });

    /// <summary>The union of closed meshes that face outward, whose corners are single-precision numbers: its volume and how many pieces it has.</summary>
    /// <exception cref="InvalidOperationException">The reference is missing or failed.</exception>
    /// <exception cref="TimeoutException">It took longer than <see cref="TimeLimit"/>.</exception>
    public static (double Volume_mm3, int Pieces) Union(IEnumerable<TriangleMesh> bodies)
    {
        if (WhyMissing is { } why) throw new InvalidOperationException(why);
        using var output = JsonDocument.Parse(Run("union.mjs", JsonSerializer.Serialize(new { Solids = bodies.Select(Solid) }, Json)));
        return (output.RootElement.GetProperty("volume_mm3").GetDouble(), output.RootElement.GetProperty("pieces").GetInt32());
    }

    private static object Solid(TriangleMesh mesh) => new
    {
        Vertices = mesh.Vertices.Select(v => new[] { v.X, v.Y, v.Z }),
        Facets = mesh.Facets.Select(f => new[] { f.A, f.B, f.C }),
    };

    private static ReferenceBody Asked(object input)
    {
        if (WhyMissing is { } why) throw new InvalidOperationException(why);
        var output = JsonSerializer.Deserialize<Output>(Run("drafted.mjs", JsonSerializer.Serialize(input, Json)), Json)!;
        return new(
            output.VolumeMm3, output.VolumeOuterMm3, output.PartVolumeMm3, output.Triangles, output.Genus, output.Seconds,
            [.. output.Heights ?? []],
            output is { Vertices: { } vertices, Facets: { } facets }
                ? new TriangleMesh([.. vertices.Select(v => new Vec3(v[0], v[1], v[2]))], [.. facets.Select(f => new Facet(f[0], f[1], f[2]))])
                : null);
    }

    private static object Input(ReferencePart part, ReferenceRequest request) => new
    {
        part.Half,
        Parting = part.Parting_mm,
        DraftDeg = part.Draft_deg,
        request.ConeFacets,
        Mode = request.Method,
        request.Outer,
        request.Mesh,
        request.Repeat,
        Samples = request.Samples.Select(Pair),
        Steps = part.Steps.Select(s => new
        {
            Op = s.Adds ? "add" : "remove",
            s.Low,
            s.High,
            Rings = s.Rings.Select(r => r.Select(Pair)),
        }),
    };

    private static double[] Pair(Vec2 p) => [p.X, p.Y];

    private static string Run(string script, string input)
    {
        using var node = Start(script, "-");
        var output = node.StandardOutput.ReadToEndAsync();
        var errors = node.StandardError.ReadToEndAsync();
        node.StandardInput.Write(input);
        node.StandardInput.Close();
        if (!node.WaitForExit(TimeLimit))
        {
            node.Kill(entireProcessTree: true);
            throw new TimeoutException($"The mesh reference took longer than {TimeLimit.TotalSeconds:0} s.");
        }

        return node.ExitCode == 0 ? output.Result : throw new InvalidOperationException(errors.Result.Trim());
    }

    private static Process Start(params string[] arguments)
    {
        var start = new ProcessStartInfo("node", arguments)
        {
            WorkingDirectory = RepositoryFiles.Path("tests/reference"),
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        return Process.Start(start)!;
    }

    private static string? FindMissing()
    {
        const string Remedy = "the mesh reference needs Node 20 or later, and \"npm ci\" run once in tests/reference";
        if (!Directory.Exists(RepositoryFiles.Path("tests/reference/node_modules/manifold-3d")))
            return $"manifold-3d is not installed: {Remedy}.";
        try
        {
            using var node = Start("--version");
            node.WaitForExit();
            return node.ExitCode == 0 ? null : $"node --version failed: {Remedy}.";
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return $"node was not found: {Remedy}.";
        }
    }

    private sealed record Output(
        [property: JsonPropertyName("volume_mm3")] double VolumeMm3,
        [property: JsonPropertyName("volume_outer_mm3")] double? VolumeOuterMm3,
        [property: JsonPropertyName("part_volume_mm3")] double PartVolumeMm3,
        int Triangles,
        int Genus,
        double Seconds,
        double?[]? Heights,
        double[][]? Vertices,
        int[][]? Facets);
}
