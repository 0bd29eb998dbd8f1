using System.Globalization;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>Numbers for messages.</summary>
internal static class Say
{
    /// <summary>A place of the plan.</summary>
    public static string At(Vec2 p) => string.Create(CultureInfo.InvariantCulture, $"({p.X:0.######}, {p.Y:0.######})");

    /// <summary>A length, to four figures.</summary>
    public static string Length(double length) => length.ToString("G4", CultureInfo.InvariantCulture);
}
