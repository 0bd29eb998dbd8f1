using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Cores;

/// <summary>The profile of a full body of revolution: x along the axis, y the distance from it, solid down to the axis.</summary>
internal sealed class RoundProfile
{
    private readonly ImmutableArray<(Vec2 From, Vec2 To)> sides;

    /// <summary>Takes a region in one piece that stands on the axis.</summary>
    public RoundProfile(PlanRegion region)
    {
        Region = region;
        sides = [.. region.Sides().Where(s => Math.Abs(s.From.X - s.To.X) > 1e-9 && (s.From.Y > 1e-9 || s.To.Y > 1e-9))
            .Select(s => s.From.X < s.To.X ? s : (From: s.To, To: s.From)).OrderBy(s => s.From.X)];
        var box = region.Geometry.EnvelopeInternal;
        (Low, High, Largest) = (box.MinX, box.MaxX, box.MaxY);
    }

    /// <summary>The region.</summary>
    public PlanRegion Region { get; }

    /// <summary>Lower end along the axis.</summary>
    public double Low { get; }

    /// <summary>Upper end.</summary>
    public double High { get; }

    /// <summary>Largest radius.</summary>
    public double Largest { get; }

    /// <summary>Least radius, ends left out.</summary>
    public double Least => sides.Min(s => Math.Min(s.From.Y, s.To.Y));

    /// <summary>Volume of the body, by frusta, mm³.</summary>
    public double Volume_mm3 => sides.Sum(s => Math.PI / 3 * (s.To.X - s.From.X) * ((s.From.Y * s.From.Y) + (s.From.Y * s.To.Y) + (s.To.Y * s.To.Y)));

    /// <summary>Area of its mantle, the level ends and shoulders left out, mm².</summary>
    public double Mantle_mm2 => sides.Sum(s => Math.PI * (s.From.Y + s.To.Y) * Vec2.Distance(s.From, s.To));

    /// <summary>Centre of the volume along the axis.</summary>
    public double Centre
    {
        get
        {
            // Simpson's rule is exact for the moment of a frustum but for the fourth degree, which a square of a line times a line does not have.
            var moment = sides.Sum(s =>
            {
                double At(double u)
                {
                    var r = s.From.Y + (u * (s.To.Y - s.From.Y));
                    return (s.From.X + (u * (s.To.X - s.From.X))) * Math.PI * r * r;
                }

                return (s.To.X - s.From.X) / 6 * (At(0) + (4 * At(0.5)) + At(1));
            });
            return moment / Volume_mm3;
        }
    }

    /// <summary>Radius at a station, the larger one at a shoulder; 0 beyond the ends.</summary>
    public double Radius(double along)
    {
        var radius = 0.0;
        foreach (var (from, to) in sides)
        {
            if (along < from.X) break;
            if (along <= to.X) radius = Math.Max(radius, from.Y + ((along - from.X) / (to.X - from.X) * (to.Y - from.Y)));
        }

        return radius;
    }

    /// <summary>The stretches of the axis over which the body is at least so thick, ascending.</summary>
    public IEnumerable<(double From, double To)> Thicker(double radius)
    {
        (double From, double To)? open = null;
        foreach (var (from, to) in sides)
        {
            var (a, b) = (from.Y - radius, to.Y - radius);
            if (a < 0 && b < 0) continue;
            var cross = a < 0 || b < 0 ? from.X + (a / (a - b) * (to.X - from.X)) : 0;
            (double From, double To) next = (a < 0 ? cross : from.X, b < 0 ? cross : to.X);
            if (open is { } o && next.From - o.To <= 1e-9)
            {
                open = (o.From, next.To);
                continue;
            }

            if (open is { } done) yield return done;
            open = next;
        }

        if (open is { } last) yield return last;
    }

    /// <summary>The part between two stations.</summary>
    public PlanRegion Between(double low, double high) => Region.Intersection(PlanRegion.Rectangle(new(low, -1), new(high, Largest + 1)));

    /// <summary>A frustum as a profile.</summary>
    public static PlanRegion Frustum(double from, double radiusFrom, double to, double radiusTo) => from < to
        ? PlanRegion.Polygon([new(from, 0), new(to, 0), new(to, radiusTo), new(from, radiusFrom)])
        : Frustum(to, radiusTo, from, radiusFrom);
}
