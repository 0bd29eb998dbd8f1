using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Tests.Grids;

/// <summary>Bodies whose columns are known in closed form, read into grids.</summary>
internal static class Bodies
{
    /// <summary>What lies between two parallel planes, within a box: a plate in any direction.</summary>
    public static SolidGrid Plate(Vec3 normal, double thickness, double width, double cell, double shift = 0)
    {
        var n = 1 / normal.Length * normal;
        var half = width / 2;
        return SolidGrid.Read(new(new(-half, -half, -half), new(half, half, half)), cell, (p, into) =>
        {
            if (Math.Abs(p.X) >= half || Math.Abs(p.Y) >= half) return;
            // shift − t/2 < n · (x, y, z) < shift + t/2
            var flat = (n.X * p.X) + (n.Y * p.Y) - shift;
            if (Math.Abs(n.Z) < 1e-12)
            {
                if (Math.Abs(flat) < thickness / 2) into.Add(new(-half, half));
                return;
            }

            double a = ((-thickness / 2) - flat) / n.Z, b = ((thickness / 2) - flat) / n.Z;
            var (low, high) = (Math.Max(-half, Math.Min(a, b)), Math.Min(half, Math.Max(a, b)));
            if (low < high) into.Add(new(low, high));
        });
    }

    /// <summary>Boxes, joined.</summary>
    public static SolidGrid Boxes(double cell, params Box3[] boxes)
    {
        var all = boxes.Aggregate(Box3.Empty, (sum, b) => sum.With(b.Low).With(b.High));
        return SolidGrid.Read(all, cell, (p, into) =>
        {
            foreach (var b in boxes.Where(b => p.X > b.Low.X && p.X < b.High.X && p.Y > b.Low.Y && p.Y < b.High.Y).OrderBy(b => b.Low.Z))
            {
                if (into.Count > 0 && into[^1].High >= b.Low.Z) into[^1] = new(into[^1].Low, Math.Max(into[^1].High, b.High.Z));
                else into.Add(new(b.Low.Z, b.High.Z));
            }
        });
    }

    public static Box3 Box(double x0, double y0, double z0, double x1, double y1, double z1) => new(new(x0, y0, z0), new(x1, y1, z1));

    public static SolidGrid Sphere(double diameter, double cell)
    {
        var r = diameter / 2;
        return SolidGrid.Read(new(new(-r, -r, -r), new(r, r, r)), cell, (p, into) =>
        {
            var h = (r * r) - (p.X * p.X) - (p.Y * p.Y);
            if (h > 0) into.Add(new(-Math.Sqrt(h), Math.Sqrt(h)));
        });
    }

    /// <summary>A round bar along x, or standing.</summary>
    public static SolidGrid Cylinder(double diameter, double length, double cell, bool stands)
    {
        var (r, half) = (diameter / 2, length / 2);
        return SolidGrid.Read(stands ? new(new(-r, -r, -half), new(r, r, half)) : new(new(-half, -r, -r), new(half, r, r)), cell, (p, into) =>
        {
            var h = (r * r) - (p.Y * p.Y) - (stands ? p.X * p.X : 0);
            if (h <= 0) return;
            if (stands) into.Add(new(-half, half));
            else if (Math.Abs(p.X) < half) into.Add(new(-Math.Sqrt(h), Math.Sqrt(h)));
        });
    }
}
