using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.Parts;

/// <summary>The castings of one mould: the same part several times, each at its place.</summary>
/// <param name="At_mm">Where the part's origin goes each time, job coordinates; the measures are those of the first.</param>
/// <param name="One">The part by itself.</param>
internal sealed record Impressions(ImmutableArray<Vec2> At_mm, PartBody One)
{
    /// <summary>Volumes that differ by less differ by rounding to a lattice.</summary>
    private const double SameVolume = 1e-4;

    /// <summary>The job with its features once for each casting, and the measures on the first.</summary>
    public Job Laid(Job job) => job with
    {
        Features = [.. At_mm.SelectMany(at => job.Features.Select(f => Moved(f, at)))],
        Loose = [.. At_mm.SelectMany((at, i) => job.Loose.Select(l => l with { Name = At_mm.Length == 1 ? l.Name : $"{l.Name} {i + 1}", At_mm = l.At_mm + new Vec3(at.X, at.Y, 0) }))],
        Measures = [.. job.Measures.Select(m => m with { From_mm = m.From_mm + new Vec3(At_mm[0].X, At_mm[0].Y, 0), To_mm = m.To_mm + new Vec3(At_mm[0].X, At_mm[0].Y, 0) })],
    };

    /// <summary>All castings as one body; what was found on the part is told once.</summary>
    /// <param name="laid">The job as laid.</param>
    /// <param name="where">Place of the setting, for messages.</param>
    /// <exception cref="InputException">Two of them overlap.</exception>
    public PartBody Body(Job laid, string where)
    {
        var all = PartBody.From(laid);
        if (Math.Abs(all.Volume_mm3 - (At_mm.Length * One.Volume_mm3)) > SameVolume * One.Volume_mm3)
            throw new InputException(where, "", "impressions: at these places castings overlap, or one is cut by the cuts of another. Move them apart, or write how many there are, such as impressions = 2, and have them put in a row.");
        return all with { Findings = One.Findings };
    }

    /// <summary>Boxes of the castings in plan, scaled, in order.</summary>
    public ImmutableArray<(Vec2 Low, Vec2 High)> Boxes(double scale) =>
        [.. At_mm.Select(at => (scale * (One.Box.Low.Plan + at), scale * (One.Box.High.Plan + at)))];

    private static Feature Moved(Feature feature, Vec2 at) =>
        at == default ? feature
        : feature.Turned is { } turned ? feature with { Turned = turned with { At_mm = turned.At_mm + new Vec3(at.X, at.Y, 0) } }
        : feature with { Loops = [.. feature.Loops.Select(l => l.Transformed(1, 0, at))] };
}
