using System.Collections.Immutable;
using System.Xml.Linq;
using PatternKit.Geometry.Mesh;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Plans;

/// <summary>The drawing of a gating bar as it is printed: views with overall sizes, and the sections that were reckoned with the places where they are taken.</summary>
internal static class BarDrawing
{
    // Ingates that end on a curved wall differ by less than a printer holds; areas by their share.
    private const double Same_mm = 0.05, SameShare = 2e-3;

    // Two to a page.
    private const double Tallest_mm = 105;

    /// <summary>Bars in their order, those that are alike together: what is printed several times is drawn once.</summary>
    public static ImmutableArray<ImmutableArray<GatingBar>> Distinct(IEnumerable<GatingBar> bars)
    {
        var groups = new List<ImmutableArray<GatingBar>>();
        foreach (var bar in bars)
        {
            var like = groups.FindIndex(g => IsLike(g[0], bar));
            if (like < 0) groups.Add([bar]);
            else groups[like] = groups[like].Add(bar);
        }

        return [.. groups];
    }

    /// <summary>The drawing of bars that are alike.</summary>
    public static XElement Draw(Kit kit, ImmutableArray<GatingBar> alike, SheetNumbers numbers)
    {
        var (bar, names) = (alike[0], string.Join(", ", alike.Select(b => b.Body.Name)));
        var (sections, box) = (BodySection.Of(bar), bar.Body.AsPrinted.Bounds());
        var title = char.ToUpperInvariant(names[0]) + names[1..];
        return ViewDrawing.Draw(kit, numbers, new(new(bar.Body.Name, title, $"{title} as printed"), [EdgedMesh.Of(bar.Body.AsPrinted)], (view, axis) => Sizes(view, axis), alike.Length == 1 ? "sizes of the bar as printed" : $"sizes of {bar.Body.Name} as printed; the others are the same to a twentieth of a millimetre")
        {
            Sections = [.. sections.Zip(bar.Cuts, (s, c) => new DrawnSection(s, numbers.Figure(c.Region.Area, "mm²", 1)))],
            Tallest_mm = Tallest_mm,
        });

        IEnumerable<ViewDimension> Sizes(LineView view, int axis)
        {
            var (low, high) = axis == 0 ? (view.Low.X, view.High.X) : (view.Low.Y, view.High.Y);
            yield return new(low, high, numbers.Length(high - low));
            // Sections at an end have the place of that end.
            foreach (var place in sections.Where(s => s.Axis == axis).Select(s => s.FromEnd_mm(box)!.Value).Where(p => p > 0.1 && high - low - p > 0.1))
                yield return new(low, low + place, numbers.Length(place));
        }
    }

    private static bool IsLike(GatingBar a, GatingBar b)
    {
        var (p, q) = (a.Body.AsPrinted, b.Body.AsPrinted);
        return a.Kind == b.Kind && (p.Bounds().Size - q.Bounds().Size).Length < Same_mm && Math.Abs(p.Volume() - q.Volume()) < SameShare * p.Volume()
            && a.Cuts.Length == b.Cuts.Length && a.Cuts.Zip(b.Cuts).All(c => Math.Abs(c.First.Region.Area - c.Second.Region.Area) < SameShare * c.First.Region.Area);
    }
}
