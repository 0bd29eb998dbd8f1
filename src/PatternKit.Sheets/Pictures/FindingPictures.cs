using System.Collections.Frozen;
using System.Collections.Immutable;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns;
using PatternKit.Patterns.Kits;

namespace PatternKit.Sheets.Pictures;

/// <summary>The halves of a pattern with leaders from what was found on each to its number.</summary>
internal static class FindingPictures
{
    private const int ViewWidth = 620;

    // Places are of the part: draft, stock and fillets have put so much metal over them, and they are seen for all that.
    private const double Skin_mm = 2;

    /// <summary>The picture, with the numbers that each half has; null where no finding has a place.</summary>
    /// <param name="kit">The kit.</param>
    /// <param name="findings">In the order of their numbers, from 1.</param>
    public static (PagePicture Picture, ImmutableArray<(MouldHalf Half, ImmutableArray<int> Numbers)> Shown)? Of(Kit kit, ImmutableArray<Finding> findings)
    {
        var placed = findings.Select((f, i) => (Number: i + 1, Place: f.At_mm)).Where(f => f.Place is not null)
            .Select(f => (f.Number, At: kit.Scale * f.Place!.Value)).GroupBy(f => HalfOf(kit, f.At)).ToDictionary(g => g.Key, g => g.ToArray());
        var halves = kit.Bodies.Where(b => placed.ContainsKey(b.Half)).ToArray();
        if (halves.Length == 0) return null;
        var panels = halves.Select(b => Task.Run(() => PicturePanel.Of(
            $"{char.ToUpperInvariant(b.Name[0])}{b.Name[1..]} half as printed", b.AsPrinted, Camera.Above, ViewWidth, new Hatch[b.AsPrinted.Facets.Length], null,
            placed[b.Half].Select(f => (f.Number, (IReadOnlySet<int>)FrozenSet<int>.Empty, (Vec3?)b.Printed(f.At))), Skin_mm))).ToArray();
        return (PicturePage.Draw("", [.. panels.Select(p => p.GetAwaiter().GetResult())], 2, [], []),
            [.. halves.Select(b => (b.Half, placed[b.Half].Select(f => f.Number).ToImmutableArray()))]);
    }

    // What lies in the joint belongs to the cope, unless the pattern has none.
    private static MouldHalf HalfOf(Kit kit, Vec3 at)
    {
        const double hair = 1e-6;
        var joint = kit.Parting.Carved is { } carved ? carved.Surface.At(at.Plan).Height : kit.Parting.PatternHeight_mm;
        var half = at.Z >= joint - hair ? MouldHalf.Cope : MouldHalf.Drag;
        return kit.Bodies.Any(b => b.Half == half) ? half : half == MouldHalf.Cope ? MouldHalf.Drag : MouldHalf.Cope;
    }
}
