using System.Collections.Immutable;
using PatternKit.Exchange.Lettering;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using static System.FormattableString;

namespace PatternKit.Patterns.Moulding;

/// <summary>Lettering sunk into the parting face of a half.</summary>
/// <param name="Half">Which half.</param>
/// <param name="Text">What it says.</param>
/// <param name="Region">In plan as seen from above the mould, pattern millimetres.</param>
/// <param name="Depth_mm">How deep.</param>
public sealed record PartingMark(MouldHalf Half, string Text, PlanRegion Region, double Depth_mm);

/// <summary>Lines of letters with capitals of height 1, centred on the origin.</summary>
/// <param name="Region">The letters.</param>
/// <param name="Width">Of their box.</param>
/// <param name="Height">Of their box.</param>
internal sealed record MarkBlock(PlanRegion Region, double Width, double Height);

/// <summary>A text for a mark.</summary>
/// <param name="Text">What it says.</param>
/// <param name="Block">Its outlines; null where the typeface lacks a letter.</param>
internal sealed record MarkText(string Text, Lazy<MarkBlock?> Block);

/// <summary>
/// Finds room on a parting face for a mark: name, half, alloy and contraction.
/// </summary>
internal static class PartingMarks
{
    private const double Chord_mm = 0.05;

    /// <summary>What the mark of a half may say, the fullest text first, in outlines that are made when asked for.</summary>
    public static ImmutableArray<MarkText> Texts(Job job, MouldHalf half, Allowances allowances, MarkSizes sizes)
    {
        var name = half == MouldHalf.Cope ? "COPE" : "DRAG";
        var percent = Invariant($"{allowances.Contraction.Value * 100:0.##} %");
        string[][] texts = [[job.Title, $"{name}  {job.Alloy}  {percent}"], [name, job.Alloy, percent], [name, percent], [name]];
        return [.. texts.Select(lines => new MarkText(string.Join(" / ", lines), new(() => Block(lines, sizes.LineStep_heights))))];
    }

    /// <summary>The mark of a half; null where there is no room beside what is sunk into its face already.</summary>
    public static PartingMark? Place(ImmutableArray<MarkText> texts, HalfMould mould, MouldHalf half, PlanRegion taken, MarkSizes sizes)
    {
        var free = mould.AtLeast(sizes.Depth_mm + sizes.Cover_mm).Offset(-sizes.Margin_mm, Chord_mm).Difference(taken.Offset(sizes.Margin_mm, Chord_mm));
        if (free.IsEmpty) return null;
        foreach (var text in texts)
            if (text.Block.Value is { } block && Fit(block, free, half, sizes) is { } region)
                return new(half, text.Text, region, sizes.Depth_mm);
        return null;
    }

    private static PlanRegion? Fit(MarkBlock block, PlanRegion free, MouldHalf half, MarkSizes sizes)
    {
        foreach (var height in sizes.Heights_mm)
        {
            foreach (var upright in new[] { false, true })
            {
                var (width, tall) = upright ? (height * block.Height, height * block.Width) : (height * block.Width, height * block.Height);
                // The cope's face is read from below: mirrored in plan.
                if (FirstPlace(free, width, tall) is { } centre)
                    return block.Region.Transformed(height, upright ? Math.PI / 2 : 0, centre, mirrored: half == MouldHalf.Cope);
            }
        }

        return null;
    }

    /// <summary>The lines one above the other, with capitals of height 1, centred on the origin, with the size of their box.</summary>
    private static MarkBlock? Block(string[] lines, double step)
    {
        var set = lines.Select(l => LetterOutlines.Of(l, 1, LetterOutlines.ChordOfHeight)).ToArray();
        if (set.Any(l => !l.Missing.IsEmpty || l.Region.IsEmpty)) return null;
        var region = PlanRegion.Union(set.Select((l, i) => l.Region.Transformed(1, 0, new(-l.Advance_mm / 2, ((lines.Length - 1) / 2.0 * step) - (i * step) - 0.5))));
        var box = region.Geometry.EnvelopeInternal;
        return new(region, 2 * Math.Max(-box.MinX, box.MaxX), 2 * Math.Max(-box.MinY, box.MaxY));
    }

    /// <summary>The place nearest the middle of the free face at which a box of the size fits.</summary>
    private static Vec2? FirstPlace(PlanRegion free, double width, double height)
    {
        var box = free.Geometry.EnvelopeInternal;
        if (width > box.Width || height > box.Height) return null;
        const int steps = 24;
        var middle = new Vec2(box.Centre.X, box.Centre.Y);
        var places = from i in Enumerable.Range(0, steps + 1)
                     from j in Enumerable.Range(0, steps + 1)
                     select new Vec2(
                         box.MinX + (width / 2) + ((box.Width - width) * i / steps),
                         box.MinY + (height / 2) + ((box.Height - height) * j / steps));
        foreach (var p in places.OrderBy(p => Math.Round((p - middle).Length, 6)).ThenBy(p => p.X).ThenBy(p => p.Y))
        {
            if (free.CoversRectangle(p - new Vec2(width / 2, height / 2), p + new Vec2(width / 2, height / 2))) return p;
        }

        return null;
    }
}
