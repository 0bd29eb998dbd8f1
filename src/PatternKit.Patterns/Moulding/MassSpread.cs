using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Patterns.Moulding;

/// <summary>How the volume of a connected piece of a half is spread over the plan.</summary>
/// <param name="Centre_mm">Under its centre of volume.</param>
/// <param name="Along">Of length one, along the piece: the principal axis of its volume, on whole degrees.</param>
/// <param name="Length_mm">Of the footprint along it.</param>
/// <param name="Width_mm">Of the footprint across it.</param>
internal readonly record struct MassSpread(Vec2 Centre_mm, Vec2 Along, double Length_mm, double Width_mm)
{
    private const int Places = 64;

    // Second moments as nearly alike as this have no axis that means anything.
    private const double Round = 0.05;

    /// <summary>Measures a piece by its thickness over a grid of 64 by 64 cells; the centre is good to about a quarter of a cell.</summary>
    /// <param name="mould">The half.</param>
    /// <param name="piece">The piece's part of its plan.</param>
    /// <param name="alone">Whether it is all of the half.</param>
    public static MassSpread Of(HalfMould mould, PlanRegion piece, bool alone)
    {
        var box = piece.Geometry.EnvelopeInternal;
        double mass = 0, x = 0, y = 0, xx = 0, xy = 0, yy = 0;
        var middle = new Vec2(box.Centre.X, box.Centre.Y);
        for (var i = 0; i < Places; i++)
        {
            for (var j = 0; j < Places; j++)
            {
                var p = new Vec2(box.Width * (((i + 0.5) / Places) - 0.5), box.Height * (((j + 0.5) / Places) - 0.5));
                var t = alone || piece.Contains(middle + p) ? mould.Thickness(middle + p) : 0;
                (mass, x, y) = (mass + t, x + (t * p.X), y + (t * p.Y));
                (xx, xy, yy) = (xx + (t * p.X * p.X), xy + (t * p.X * p.Y), yy + (t * p.Y * p.Y));
            }
        }

        if (!(mass > 0)) return Measured(piece, piece.Centroid, 0);
        var centre = new Vec2(x / mass, y / mass);
        (xx, xy, yy) = ((xx / mass) - (centre.X * centre.X), (xy / mass) - (centre.X * centre.Y), (yy / mass) - (centre.Y * centre.Y));
        var apart = Math.Sqrt(((xx - yy) * (xx - yy)) + (4 * xy * xy));
        var angle = apart < Round * (xx + yy) ? box.Width >= box.Height * (1 - 1e-6) ? 0 : 90 : Math.Round(0.5 * Math.Atan2(2 * xy, xx - yy) * 180 / Math.PI);
        // On thousandths; adding zero turns a negative zero into zero.
        centre += middle;
        return Measured(piece, new(Math.Round(centre.X, 3) + 0.0, Math.Round(centre.Y, 3) + 0.0), angle);
    }

    private static MassSpread Measured(PlanRegion piece, Vec2 centre, double degrees)
    {
        // Whole quarter turns without the rounding of a sine.
        Vec2 along = degrees == 0 ? new(1, 0) : Math.Abs(degrees) == 90 ? new(0, 1) : new(Math.Cos(degrees * Math.PI / 180), Math.Sin(degrees * Math.PI / 180));
        var (length, width) = (Extent(piece, along), Extent(piece, along.Left));
        return width > length * (1 + 1e-6) ? new(centre, along.Left, width, length) : new(centre, along, length, width);
    }

    private static double Extent(PlanRegion piece, Vec2 direction)
    {
        var on = piece.Geometry.Coordinates.Select(c => (c.X * direction.X) + (c.Y * direction.Y)).ToArray();
        return on.Max() - on.Min();
    }
}
