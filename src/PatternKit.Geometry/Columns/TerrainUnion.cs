using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Geometry.Columns;

/// <summary>Joins bodies of prisms to a body between two terrains. Where a body meets it, the column is solid from the lowest end to the highest.</summary>
public static class TerrainUnion
{
    /// <summary>The joined map. Sloped ends of the bodies are cut at the base, so that its cells lie on one side of it.</summary>
    /// <param name="map">Before draft.</param>
    /// <param name="bodies">Each a list of prisms in order; one that removes takes from those of its own body alone.</param>
    /// <param name="step">Lattice step of the result, mm; a power of two.</param>
    public static TerrainMap Of(TerrainMap map, IReadOnlyList<ImmutableArray<Prism>> bodies, double step)
    {
        var prisms = map.Cells.Select(c => new Prism(c.Region, c.Floor, c.Top)).ToList();
        var owners = new List<int>();
        for (var i = 0; i < bodies.Count; i++)
        {
            prisms.AddRange(bodies[i]);
            owners.AddRange(Enumerable.Repeat(i, bodies[i].Length));
        }

        var (own, all) = (map.Cells.Length, prisms.Count);
        // Over all bodies lies a level end at the base, which cuts what crosses it.
        if (bodies.Count > 0) prisms.Add(new(PlanRegion.Union(prisms.Skip(own).Select(p => p.Region)), map.Base, map.Base + 1e5));
        var faces = ColumnMapBuilder.Faces(prisms, step);
        return TerrainMap.Joined([.. faces.Select(f => f.Region)], faces.Select(Kind), Lattice.Snap(map.Base, step));

        TerrainKind? Kind(PartitionFace face)
        {
            var at = face.Region.InnerPoint;
            var cell = face.Members.Where(m => m < own).Select(m => map.Cells[m]).FirstOrDefault();
            var solid = cell is { IsMetal: true } ? ColumnSpans.Add([], cell.Floor, cell.Top, at) : [];
            var joined = false;
            foreach (var body in face.Members.Where(m => m >= own && m < all).GroupBy(m => owners[m - own]))
                foreach (var s in ColumnSpans.Of(prisms, body, at))
                    (solid, joined) = (ColumnSpans.Add(solid, s.Low, s.High, at), true);
            if (joined) return new(Snapped(solid[^1].High), Snapped(solid[0].Low), true, false);
            return cell is null ? null : new(Snapped(cell.Top), Snapped(cell.Floor), cell.IsMetal, cell.IsOpen);
        }

        HeightPlane Snapped(HeightPlane plane) => plane.IsLevel ? Lattice.Snap(plane.AtOrigin, step) : plane;
    }
}
