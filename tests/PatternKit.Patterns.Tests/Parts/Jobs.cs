using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Tests.Parts;

/// <summary>Short ways to write a job down.</summary>
internal static class Jobs
{
    internal static Job Of(params Feature[] features) => new(
        "lever", "Lever bracket", LengthUnit.Millimetre, "AlSi7Mg", "oil-bonded",
        [.. features], new(), new(), [], [], []);

    internal static Feature Block(double x0, double y0, double x1, double y1, double low, double high, CutKind cut = CutKind.None, string name = "block") =>
        new(name, null, [PlanPath.Polygon(new Vec2(x0, y0), new(x1, y0), new(x1, y1), new(x0, y1))], low, high, cut, "job.toml, line 7");

    internal static Feature Round(double x, double y, double diameter, double low, double high, CutKind cut = CutKind.None, string name = "round") =>
        new(name, null, [PlanPath.Circle(new(x, y), diameter)], low, high, cut, "job.toml, line 9");

    internal static Feature On(this Feature f, string layer) => f with { Layer = layer };

    /// <summary>Area of the regular polygon that a circle of this diameter is flattened to: its corners lie on the circle.</summary>
    internal static double PolygonArea(double diameter, double chordTolerance_mm = 0.01)
    {
        var n = PlanPath.Circle(default, diameter).Flatten(chordTolerance_mm).Count;
        return n * diameter * diameter / 8 * Math.Sin(2 * Math.PI / n);
    }

    internal static ImmutableDictionary<string, double> Names(string name, double stock_mm) =>
        ImmutableDictionary<string, double>.Empty.Add(name, stock_mm);
}
