using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Columns;

/// <summary>What two bodies of prisms have in common.</summary>
/// <param name="Volume_mm3">Of what they share, exactly but for rounding to the lattice.</param>
/// <param name="Box">Around it.</param>
public sealed record ColumnOverlap(double Volume_mm3, Box3 Box)
{
    /// <summary>Looks at a partition of the plan by both.</summary>
    /// <param name="map">One body.</param>
    /// <param name="body">The other, as prisms in order.</param>
    /// <param name="step">Lattice step of the partition, mm; a power of two.</param>
    public static ColumnOverlap Of(ColumnMap map, ImmutableArray<Prism> body, double step)
    {
        Prism[] own = [.. map.Cells.SelectMany(c => c.Solid.Select(s => new Prism(c.Region, s.Low, s.High)))];
        Prism[] all = [.. own, .. body];
        var (volume, box) = (0.0, Box3.Empty);
        foreach (var face in ColumnMapBuilder.Faces(all, step))
        {
            if (face.Members.IsEmpty || face.Members[^1] < own.Length || face.Members[0] >= own.Length) continue;
            var at = face.Region.InnerPoint;
            var filled = ColumnSpans.Of(all, face.Members.Where(m => m >= own.Length), at);
            foreach (var solid in face.Members.Where(m => m < own.Length).Select(m => all[m]))
                foreach (var s in filled)
                {
                    // No two ends cross over a face, so that which is the higher is the same everywhere.
                    var low = s.Low.At(at) >= solid.Low.At(at) ? s.Low : solid.Low;
                    var high = s.High.At(at) <= solid.High.At(at) ? s.High : solid.High;
                    if (!(low.At(at) < high.At(at))) continue;
                    volume += face.Region.Area * new Span(low, high).LengthAt(face.Region.Centroid);
                    foreach (var c in face.Region.Geometry.Coordinates)
                    {
                        Vec2 p = new(c.X, c.Y);
                        box = box.With(new(p.X, p.Y, low.At(p))).With(new(p.X, p.Y, high.At(p)));
                    }
                }
        }

        return new(volume, box);
    }
}
