using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Cli.Tests;

/// <summary>The drawing of the lever-bracket template as it was made: change it here, and the template with it.</summary>
internal static class LeverBracketDrawing
{
    private const double Length = 100, Width = 60, Corner = 8;

    public static DxfDocument Document()
    {
        string[] layers = ["BASE", "BOSS", "RIB", "BORE", "HOLES"];
        return new(DxfUnit.Millimetre, layers.Select(l => new DxfLayer(l)),
        [
            .. Plate().Select(p => new DxfPath("BASE", p)),
            new DxfPath("BOSS", PlanPath.Circle(new(70, 30), 24)),
            new DxfPath("RIB", PlanPath.Polygon(new(10, 27), new(70, 27), new(70, 33), new(10, 33))),
            new DxfPath("BORE", PlanPath.Circle(new(70, 30), 10)),
            new DxfPath("HOLES", PlanPath.Circle(new(15, 12), 8)),
            new DxfPath("HOLES", PlanPath.Circle(new(15, 48), 8)),
        ]);
    }

    // As a draughtsman draws it: four lines and four arcs, each an entity of its own.
    private static IEnumerable<PlanPath> Plate()
    {
        var quarter = Math.Tan(Math.PI / 8);
        var (l, w, r) = (Length, Width, Corner);
        Vec2[] p = [new(r, 0), new(l - r, 0), new(l, r), new(l, w - r), new(l - r, w), new(r, w), new(0, w - r), new(0, r)];
        for (var i = 0; i < p.Length; i++) yield return new([new(p[i], i % 2 == 1 ? quarter : 0), new(p[(i + 1) % p.Length])], false);
    }
}
