using System.Collections.Immutable;
using System.Text.Json;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Tests.Reference;

/// <summary>Which side of the parting is drafted.</summary>
internal enum Half
{
    Upper,
    Lower,
}

/// <summary>An upright prism that is added to or removed from what the steps before it made; millimetres.</summary>
internal sealed record PrismStep(string Name, bool Adds, double Low, double High, ImmutableArray<ImmutableArray<Vec2>> Rings)
{
    /// <summary>The plan inside an odd number of the rings.</summary>
    public PlanRegion Region { get; } = PlanRegion.EvenOdd(Rings.Select(r => PlanPath.Polygon(r.AsSpan())), 0);
}

/// <summary>Where the part is solid at the height just below <paramref name="Height"/>, measured beyond the parting.</summary>
internal sealed record Slice(PlanRegion Region, double Height);

/// <summary>
/// A part made of upright prisms for comparisons: a file of tests/cases/parts, or made in a test.
/// Its arcs are polygons already, so that every method gets the same corners.
/// </summary>
internal sealed record ReferencePart(
    string Name, string About, Half Half, double Parting_mm, double Draft_deg, ImmutableArray<PrismStep> Steps)
{
    /// <summary>Tangent of the draft angle.</summary>
    public double Tangent => Math.Tan(Draft_deg * Math.PI / 180);

    /// <summary>The names of the parts in tests/cases/parts.</summary>
    public static IEnumerable<string> Names =>
        Directory.EnumerateFiles(RepositoryFiles.Path("tests/cases/parts"), "*.json")
            .Select(f => Path.GetFileNameWithoutExtension(f)).Order(StringComparer.Ordinal);

    /// <summary>Reads a part of tests/cases/parts by its name.</summary>
    public static ReferencePart Load(string name)
    {
        using var json = JsonDocument.Parse(File.ReadAllBytes(RepositoryFiles.Path($"tests/cases/parts/{name}.json")));
        var root = json.RootElement;
        var chord = root.GetProperty("chord_mm").GetDouble();
        return new(
            name,
            root.GetProperty("about").GetString()!,
            Enum.Parse<Half>(root.GetProperty("half").GetString()!, ignoreCase: true),
            root.GetProperty("parting_mm").GetDouble(),
            root.GetProperty("draft_deg").GetDouble(),
            [.. root.GetProperty("steps").EnumerateArray().Select(s => ReadStep(s, chord))]);
    }

    /// <summary>A regular polygon with its corners on a circle, the first on +x.</summary>
    public static ImmutableArray<Vec2> Circle(double diameter, Vec2 at, int sides) =>
        [.. Enumerable.Range(0, sides).Select(i =>
        {
            var (s, c) = Math.SinCos(2 * Math.PI * i / sides);
            return at + (diameter / 2 * new Vec2(c, s));
        })];

    /// <summary>
    /// The slices that bound the part beyond the parting, lowest first. The part of that half, everything below a
    /// solid point filled, is the union of the slices carried down to the parting.
    /// </summary>
    public ImmutableArray<Slice> Slices()
    {
        var prisms = Steps.Select(s => Half == Half.Upper
            ? (Step: s, Low: s.Low - Parting_mm, High: s.High - Parting_mm)
            : (Step: s, Low: Parting_mm - s.High, High: Parting_mm - s.Low)).ToList();
        var slices = ImmutableArray.CreateBuilder<Slice>();
        double below = 0;
        foreach (var top in prisms.SelectMany(p => new[] { p.Low, p.High }).Where(h => h > 0).Distinct().Order())
        {
            var middle = (below + top) / 2;
            var region = prisms.Where(p => p.Low < middle && middle < p.High).Aggregate(PlanRegion.Empty, (r, p) =>
                p.Step.Adds ? r.Union(p.Step.Region) : r.Difference(p.Step.Region));
            if (!region.IsEmpty) slices.Add(new(region, top));
            below = top;
        }

        return slices.ToImmutable();
    }

    private static PrismStep ReadStep(JsonElement step, double chord) => new(
        step.GetProperty("name").GetString()!,
        step.GetProperty("op").GetString() switch
        {
            "add" => true,
            "remove" => false,
            var other => throw new InvalidDataException($"op is \"{other}\"; it must be add or remove."),
        },
        step.GetProperty("low").GetDouble(),
        step.GetProperty("high").GetDouble(),
        [.. step.GetProperty("rings").EnumerateArray().Select(r => ReadRing(r, chord))]);

    private static ImmutableArray<Vec2> ReadRing(JsonElement ring, double chord)
    {
        if (ring.TryGetProperty("circle", out var diameter))
            return Circle(diameter.GetDouble(), Point(ring.GetProperty("at")), ring.GetProperty("sides").GetInt32());
        if (ring.TryGetProperty("polygon", out var polygon)) return [.. polygon.EnumerateArray().Select(Point)];
        var vertices = ring.GetProperty("path").EnumerateArray()
            .Select(v => new PlanVertex(Point(v), v.GetArrayLength() > 2 ? v[2].GetDouble() : 0));
        return [.. new PlanPath([.. vertices], closed: true).Flatten(chord)];
    }

    private static Vec2 Point(JsonElement pair) => new(pair[0].GetDouble(), pair[1].GetDouble());
}
