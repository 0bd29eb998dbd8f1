using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Moulding;

/// <summary>Which plateaus of a half are the ends of features, and which holes are features, that the job gives a radius of their own.</summary>
internal sealed class NamedRadii
{
    private readonly PatternFrame frame;
    private readonly bool isCope;
    private readonly double slack_mm;
    private readonly ImmutableArray<(PlanRegion Plan, double End_mm, double Radius_mm, bool IsCut)> features;

    public NamedRadii(Job job, RadiusSettings? settings, MouldHalf half, PatternFrame frame, Allowances allowances)
    {
        (this.frame, isCope) = (frame, half == MouldHalf.Cope);
        slack_mm = 0.01 + allowances.Stock.Value.Each.Max(s => new[] { s.Top_mm, s.Bottom_mm, s.Names_mm?.Values.DefaultIfEmpty(0).Max() ?? 0 }.Max());
        var names = settings?.Names_mm ?? ImmutableDictionary<string, double>.Empty;
        var found = job.Features
            // Letters are too fine for it, unless a name says otherwise.
            .Select(f => (f, Radius: names.TryGetValue(f.Name, out var own) || (f.Layer is { } layer && names.TryGetValue(layer, out own)) ? own
                : f.Text is null ? (double?)null : 0))
            .Where(f => f.Radius is not null).ToArray();
        var solids = FeatureSolid.Of([.. found.Select(f => f.f)], 0.05);
        OfTurned = found.Where(f => f.f.Turned is not null && f.f.Cut == CutKind.None).Select(f => f.Radius).Min();
        features = [.. found.Select((f, i) => (solids[i].Plan, isCope ? f.f.High_mm : f.f.Low_mm, f.Radius!.Value, f.f.Cut != CutKind.None))];
    }

    /// <summary>The least radius of turned features; null where no name says one.</summary>
    public double? OfTurned { get; }

    /// <summary>The largest of them.</summary>
    public double Largest => features.Where(f => !f.IsCut).Select(f => f.Radius_mm).DefaultIfEmpty(0).Max();

    /// <summary>The radius for a plateau's walls; null where no name says one.</summary>
    public double? Of(Plateau plateau)
    {
        if (features.IsEmpty) return null;
        var p = plateau.Region.InnerPoint;
        var at = frame.ToJob(new(p.X, p.Y, isCope ? plateau.Height : -plateau.Height));
        return features.Where(f => !f.IsCut && Math.Abs(f.End_mm - at.Z) <= slack_mm && f.Plan.Contains(at.Plan)).Select(f => (double?)f.Radius_mm).LastOrDefault();
    }

    /// <summary>The radius for the edge of a hole; null where no name says one.</summary>
    /// <param name="p">A place in the hole, of the half.</param>
    public double? OfHole(Vec2 p)
    {
        var at = frame.ToJob(new(p.X, p.Y, 0));
        return features.Where(f => f.IsCut && f.Plan.Contains(at.Plan)).Select(f => (double?)f.Radius_mm).LastOrDefault();
    }
}
