using System.Collections.Immutable;
using System.Globalization;
using System.Text;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Drawings;
using PatternKit.Sheets.Html;
using PatternKit.Sheets.Paper;
using PatternKit.Sheets.Texts;
using static PatternKit.Sheets.Html.Markup;

namespace PatternKit.Sheets.Templates;

/// <summary>
/// cutting.dxf and cutting.svg: the templates for a machine, by what it does with a line: cut, drill, engrave. Both lay them out alike; lines are finished edges, no kerf in them.
/// </summary>
internal static class CuttingFiles
{
    private const string CutLayer = "CUT";
    private const string DrillLayer = "DRILL";
    private const string EngraveLayer = "ENGRAVE";
    private const double Width_mm = 600;
    private const double Gap_mm = 10;
    private const double NameHeight_mm = 3;
    private const double NameRoom_mm = 6;

    /// <summary>cutting.dxf: y upward from the foot of the sheet, true arcs, millimetres.</summary>
    public static byte[] Dxf(Kit kit, ImmutableArray<Template> templates)
    {
        var laid = Lay(templates);
        var entities = new List<DxfEntity>();
        foreach (var (t, at) in laid.Items)
        {
            var shift = new Vec2(at.X - t.Box.Low.X, laid.Height_mm - at.Y - NameRoom_mm - t.Box.High.Y);
            entities.AddRange(t.Cut.SelectMany(r => DrawingKit.Region(CutLayer, r, shift)));
            entities.AddRange(t.Drill.Select(h => new DxfPath(DrillLayer, PlanPath.Circle(h.At_mm + shift, h.Diameter_mm))));
            entities.AddRange(t.Engrave.Select(l => new DxfPath(EngraveLayer, new([new(l.From + shift), new(l.To + shift)], false))));
            // The place of a DXF text is its left end: half of its width is not known, so that half a letter a character is taken.
            entities.AddRange(t.Texts.Select(x => new DxfText(EngraveLayer, x.At_mm + shift - new Vec2(0.3 * x.Content.Length * x.Height_mm, 0), x.Height_mm, 0, DrawingKit.Plain(x.Content))));
            entities.Add(new DxfText(EngraveLayer, new(at.X, laid.Height_mm - at.Y - 4), NameHeight_mm, 0, DrawingKit.Plain(t.Name)));
        }

        entities.Add(new DxfText(EngraveLayer, new(0, laid.Height_mm + 5), NameHeight_mm, 0, DrawingKit.Plain(Note(kit))));
        return DrawingKit.Write([new(CutLayer), new(DrillLayer), new(EngraveLayer)], entities);
    }

    /// <summary>cutting.svg: its unit is the millimetre, with a group for each purpose.</summary>
    public static byte[] Svg(Kit kit, ImmutableArray<Template> templates)
    {
        var laid = Lay(templates);
        const double head = 10;
        var shapes = laid.Items.Select(i => (Shape: new TemplateShape(i.Template, new(i.Template.Box.Low.X, i.Template.Box.High.Y), i.At + new Vec2(0, head + NameRoom_mm)), i.Template, i.At)).ToArray();
        var height = laid.Height_mm + head;
        var svg = Shape("svg", Set("viewBox", $"0 0 {Number(Width_mm)} {Number(height)}"), Set("width", $"{Number(Width_mm)}mm"), Set("height", $"{Number(height)}mm"),
            Shape("title", Note(kit)),
            Shape("style", "\n" + DrawingStyle.Css()),
            Shape("g", Set("id", "cut"), shapes.Select(s => s.Shape.Cut())),
            Shape("g", Set("id", "drill"), shapes.SelectMany(s => s.Shape.Drill())),
            Shape("g", Set("id", "engrave"),
                Name(0, 5, Note(kit)),
                shapes.SelectMany(s => s.Shape.Engrave()), shapes.SelectMany(s => s.Shape.Letters(_ => true)),
                shapes.Select(s => Name(s.At.X, s.At.Y + head + 4, s.Template.Name))));
        return Encoding.UTF8.GetBytes("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n" + svg.ToString(SaveOptions.DisableFormatting) + "\n");
    }

    private static XElement Name(double x, double y, string text) => Shape("text", Set("x", x), Set("y", y), Set("font-size", NameHeight_mm), text);

    private static string Note(Kit kit) => string.Create(CultureInfo.InvariantCulture,
        $"{ShopSheet.Title(kit)}, revision {Revision.Of(kit.Job)}: templates at full size, millimetres, pattern sizes. Kerf 0: lines are finished edges, set half the kerf outward.");

    private static (ImmutableArray<(Template Template, Vec2 At)> Items, double Height_mm) Lay(ImmutableArray<Template> templates)
    {
        Vec2[] sizes = [.. templates.Select(t => t.Box.Size.Plan + new Vec2(0, NameRoom_mm))];
        var places = Shelves.Lay(sizes, new(Width_mm, double.PositiveInfinity), Gap_mm);
        return ([.. templates.Zip(places, (t, p) => (t, p.Corner_mm))], places.Zip(sizes, (p, s) => p.Corner_mm.Y + s.Y).DefaultIfEmpty(0).Max());
    }
}
