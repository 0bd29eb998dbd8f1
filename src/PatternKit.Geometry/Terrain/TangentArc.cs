namespace PatternKit.Geometry.Terrain;

/// <summary>
/// The profile of a ball between a level and a wall that leans back by an angle: tangent to both where it is struck by its own radius. Struck by a
/// little more about the same centre, it crosses both, so that a polygon of its points can hold as much as the true arc.
/// </summary>
/// <param name="Radius">r, mm.</param>
/// <param name="Struck">Radius of the arc, at least r.</param>
/// <param name="Angle">Of the wall from the vertical, radians.</param>
internal readonly record struct TangentArc(double Radius, double Struck, double Angle)
{
    /// <summary>r, mm.</summary>
    public double Radius { get; } = Radius;

    /// <summary>Radius of the arc as struck, mm.</summary>
    public double Struck { get; } = Struck;

    /// <summary>Of the wall from the vertical, radians.</summary>
    public double Angle { get; } = Angle;

    /// <summary>Where the arc leaves the level, as angle from the upright.</summary>
    public double From { get; } = Math.Acos(Math.Min(1, Radius / Struck));

    /// <summary>How far it turns from there to the wall.</summary>
    public double Turn => (Math.PI / 2) - Angle - (2 * From);

    /// <summary>r tan(45° − θ/2): from the line in which level and wall meet to where the true arc touches the level, and to where it touches the wall.</summary>
    public double Reach { get; } = Radius * Math.Tan((Math.PI / 4) - (Angle / 2));

    /// <summary>r (1 − sin θ): from the level to where the true arc touches the wall.</summary>
    public double Depth => Radius * (1 - Math.Sin(Angle));

    /// <summary>How far from the line in which level and wall meet the arc, as struck, leaves the level.</summary>
    public double Inside => Reach - (Struck * Math.Sin(From));

    /// <summary>The arc of a ball, struck so that its chords hold what the true arc holds.</summary>
    /// <param name="radius">r, mm.</param>
    /// <param name="angle">Of the wall from the vertical, radians.</param>
    /// <param name="chord">Largest distance of the chords from the struck arc, mm; less than that is added to the radius.</param>
    public static TangentArc OfTrueArea(double radius, double angle, double chord)
    {
        var (low, high, sector) = (0.0, chord, radius * radius * ((Math.PI / 2) - angle) / 2);
        while (high - low > 1e-6 * radius)
        {
            var middle = (low + high) / 2;
            var arc = new TangentArc(radius, radius + middle, angle);
            var steps = arc.Chords(chord);
            var under = (steps * arc.Struck * arc.Struck * Math.Sin(arc.Turn / steps) / 2) + (radius * radius * Math.Tan(arc.From));
            if (under < sector) low = middle;
            else high = middle;
        }

        return new(radius, radius + high, angle);
    }

    /// <summary>How many equal chords stay within a distance of the arc, mm.</summary>
    public int Chords(double chord) => Chords(Turn, Struck, chord);

    /// <summary>How many equal chords an arc takes to stay within a distance of them.</summary>
    /// <param name="turn">Of the arc, radians.</param>
    /// <param name="radius">Of the arc, mm.</param>
    /// <param name="chord">The distance, mm.</param>
    public static int Chords(double turn, double radius, double chord) => (int)Math.Ceiling(turn / (2 * Math.Acos(1 - Math.Min(0.5, chord / radius))));
}
