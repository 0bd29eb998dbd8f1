using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml;
using System.Xml.Linq;
using PatternKit.Exchange.Dxf;

namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Sheet and templates of every template job, read back by programs outside the project: pdf.js, poppler (Debian package poppler-utils), html-validate, axe-core in Chromium.</summary>
public sealed class SheetFileTests(MadeKits kits)
{
    private static readonly string[] Pdfs = ["shop-sheet.pdf", "templates-a4.pdf", "templates-letter.pdf"];

    public static TheoryData<string> Names() => MadeKits.Names();

    [Theory]
    [MemberData(nameof(Names))]
    public void No_text_overlaps_another_or_leaves_its_page(string template)
    {
        var made = kits.Of(template);
        foreach (var (name, pages) in Pdfs.Zip(PageReader.Pdf(Pdfs.Select(p => Path.Combine(made.Kit, p)))))
            Assert.All(pages, (p, i) => Assert.Equal("", string.Join("; ", p.Clashes().Select(c => $"{name}, page {i + 1}: {c}"))));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_validator_and_the_accessibility_checker_find_nothing(string template)
    {
        var verdict = PageReader.Html(Path.Combine(kits.Of(template).Kit, "shop-sheet.html")).Single();
        Assert.Empty(verdict.Html);
        Assert.Equal(["1400", "360"], verdict.Axe.Keys.Order(StringComparer.Ordinal));
        Assert.All(verdict.Axe.Values, Assert.Empty);
        // Nothing wider than the screen: tables scroll by themselves.
        Assert.All(verdict.Overflow.Values, o => Assert.Equal(0, o));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void The_pdf_has_every_number_of_the_html(string template)
    {
        var made = kits.Of(template);
        using var reader = XmlReader.Create(new StringReader(File.ReadAllText(Path.Combine(made.Kit, "shop-sheet.html"))["<!DOCTYPE html>\n".Length..]));
        var html = XElement.Load(reader);
        foreach (var unseen in html.Descendants().Where(e => e.Name.LocalName is "style" or "desc" || (e.Name.LocalName == "title" && e.Parent!.Name.LocalName == "svg")).ToArray()) unseen.Remove();
        var printed = Words(string.Join(' ', Texts(made).Select(t => t.Text))).GroupBy(w => w).ToDictionary(g => g.Key, g => g.Count());
        var shown = html.Descendants().SelectMany(e => e.Nodes().OfType<XText>()).SelectMany(t => Words(t.Value)).Where(w => w.Length < 24 && w.Any(char.IsDigit)).GroupBy(w => w).ToArray();
        Assert.True(shown.Length > 100);
        Assert.All(shown, w => Assert.True(printed.GetValueOrDefault(w.Key) >= w.Count(), $"{w.Key}: {w.Count()} in HTML, {printed.GetValueOrDefault(w.Key)} in PDF"));
    }

    // Decimals and units as the sheet has them.
    [Theory]
    [MemberData(nameof(Names))]
    public void Numbers_in_the_pdf_are_those_of_the_kit_file(string template)
    {
        var made = kits.Of(template);
        var text = string.Join(' ', Texts(made).Select(t => t.Text)).Replace('\u00A0', ' ').Replace('\u202F', ' ').Replace('–', '-').Replace('\u2212', '-');
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(made.Kit, "kit.json")));
        var root = document.RootElement;
        var inches = root.GetProperty("unit").GetString() == "in";
        var wanted = new List<string> { root.GetProperty("revision").GetString()! };
        foreach (var body in root.GetProperty("bodies").EnumerateArray()) wanted.Add(inches ? "" : $"{Grouped(body.GetProperty("volume_mm3").GetDouble(), 1)} mm³");
        foreach (var measure in root.GetProperty("measures").EnumerateArray().Where(m => m.GetProperty("pattern_mm").ValueKind == JsonValueKind.Number)) wanted.Add($"{Grouped(measure.GetProperty("pattern_mm").GetDouble(), 2)} mm");
        var (gating, pouring) = (root.GetProperty("gating"), root.GetProperty("pouring"));
        if (gating.ValueKind == JsonValueKind.Object) foreach (var key in new[] { "choke_mm2", "runner_mm2", "ingate_mm2" }) wanted.Add($"{Short(gating.GetProperty(key).GetDouble())} mm²");
        wanted.Add($"{Short(pouring.GetProperty("forces").GetProperty("lift_N").GetDouble())} N");
        wanted.Add($"{Grouped(pouring.GetProperty("flask").GetProperty("sand_kg").GetDouble(), 3)} kg");
        wanted.Add($"{Grouped(root.GetProperty("metal").GetProperty("casting_kg").GetDouble(), 3)} kg");
        Assert.True(wanted.Count > 6);
        Assert.All(wanted, w => Assert.Contains(w, text, StringComparison.Ordinal));
    }

    // Between a number of the sheet and its unit stands a blank that does not break: what has one is a figure, what has none is a word of a rule or a source.
    // HTML keeps that blank, and the paper has every number of the HTML, as the test above finds.
    [Theory]
    [MemberData(nameof(Names))]
    public void Every_figure_of_the_sheet_is_in_the_json(string template)
    {
        var made = kits.Of(template);
        using var reader = XmlReader.Create(new StringReader(File.ReadAllText(Path.Combine(made.Kit, "shop-sheet.html"))["<!DOCTYPE html>\n".Length..]));
        var html = XElement.Load(reader);
        // The ends of scale bars are no figures of the job.
        foreach (var other in html.Descendants().Where(e => e.Name.LocalName == "style" || (string?)e.Attribute("class") == "scale-bar").ToArray()) other.Remove();
        var text = string.Join(" | ", html.DescendantNodes().OfType<XText>().Select(t => t.Value)).Replace('\u2212', '-');
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(made.Kit, "kit.json")));
        var (values, words) = (new List<double>(), new List<string>());
        Walk(document.RootElement);
        var prose = string.Join(' ', words);
        // Minutes, litres, percent and degrees are told of seconds, cubic millimetres, parts and radians; inches and pounds stand beside.
        var factors = new Dictionary<string, double> { ["min"] = 60, ["l"] = 1e6, ["%"] = 0.01, ["°"] = Math.PI / 180, ["in"] = 25.4, ["lb"] = 0.45359237, ["lbf"] = 4.4482216, ["lb/s"] = 0.45359237, ["US gal"] = 3.785411784 };
        var figures = Regex.Matches(text, @"(?<![\d.])(-?\d{1,3}(?:\u202F\d{3})*(?:\.\d+)?)(?:\u00A0(mm³|mm²|mm|cm³|kg/m³|kg/s|kg|N|kPa|m/s|s/mm²|s|min|°C|%|l|in|lb/s|lbf|lb|US\u00A0gal|W/m²K)|(°))(?![\w³²/])")
            .Select(m => (Number: m.Groups[1].Value.Replace("\u202F", "", StringComparison.Ordinal), Unit: m.Groups[2].Value.Replace('\u00A0', ' ') + m.Groups[3].Value)).Distinct().ToArray();
        Assert.True(figures.Length > 60, $"{figures.Length} figures");
        Assert.All(figures, f => Assert.True(IsIn(f.Number, f.Unit), $"{f.Number} {f.Unit} is not in kit.json"));

        bool IsIn(string number, string unit)
        {
            var value = Math.Abs(double.Parse(number, CultureInfo.InvariantCulture));
            var tolerance = (0.5001 * Math.Pow(10, number.Contains('.', StringComparison.Ordinal) ? -number.Split('.')[1].Length : 0)) + 1e-9;
            double[] ways = [1, factors.GetValueOrDefault(unit, 1)];
            // Waits are told in whole minutes, rounded up.
            if (unit == "min" && values.Any(v => Math.Ceiling(v) == value)) return true;
            return values.Any(v => ways.Any(w => Math.Abs(Math.Abs(v) - (value * w)) <= tolerance * w))
                || Regex.IsMatch(prose, $@"(?<![\d.]){Regex.Escape(number.TrimStart('-'))}(?!\d)");
        }

        void Walk(JsonElement e)
        {
            switch (e.ValueKind)
            {
                case JsonValueKind.Number: values.Add(e.GetDouble()); break;
                case JsonValueKind.String: words.Add(e.GetString()!.Replace("\u202F", "", StringComparison.Ordinal)); break;
                case JsonValueKind.Array: foreach (var item in e.EnumerateArray()) Walk(item); break;
                case JsonValueKind.Object: foreach (var p in e.EnumerateObject()) Walk(p.Value); break;
                default: break;
            }
        }
    }

    // Names of dowels, draw screws, seats and vents, as wide as two thirds of the letters' height for each letter: no name on another, on a hole, its centre lines, lettering or an outline.
    [Theory]
    [MemberData(nameof(Names))]
    public void Names_on_the_plans_stand_on_nothing_dark(string template)
    {
        foreach (var plan in new[] { "drawing-plan.svg", "drawing-mould.svg" })
        {
            var svg = XElement.Load(Path.Combine(kits.Of(template).Kit, plan));
            double Of(XElement e, string name) => double.Parse(e.Attribute(name)!.Value, CultureInfo.InvariantCulture);
            var names = svg.Descendants().Where(e => e.Name.LocalName == "text" && Regex.IsMatch(e.Value, "^[DSPV][0-9]+$"))
                .Select(e => (e.Value, Wide: 0.66 * 3.5 * e.Value.Length, X: Of(e, "x"), Y: Of(e, "y"))).Select(n => (n.Value, Left: n.X - (n.Wide / 2), Top: n.Y - 2.5, Right: n.X + (n.Wide / 2), Bottom: n.Y)).ToArray();
            // A joint without holes has no names; every mould here has vents.
            if (plan == "drawing-mould.svg") Assert.NotEmpty(names);
            var dark = new List<(double Left, double Top, double Right, double Bottom, string What)>();
            foreach (var c in svg.Descendants().Where(e => e.Name.LocalName == "circle" && (string?)e.Attribute("class") == "dowel")) dark.Add((Of(c, "cx") - Of(c, "r"), Of(c, "cy") - Of(c, "r"), Of(c, "cx") + Of(c, "r"), Of(c, "cy") + Of(c, "r"), "a hole"));
            foreach (var l in svg.Descendants().Where(e => e.Name.LocalName == "line" && (string?)e.Attribute("class") is "centre" or "cut-end" or "origin-axis")) Straight(Of(l, "x1"), Of(l, "y1"), Of(l, "x2"), Of(l, "y2"), "a line");
            foreach (var p in svg.Descendants().Where(e => e.Name.LocalName == "path" && (string?)e.Attribute("class") is "cope-mark" or "drag-mark" or "cope-outline" or "drag-outline" && (string?)e.Attribute("d") != ""))
                foreach (var ring in p.Attribute("d")!.Value.TrimEnd('Z').Split('Z').Select(r => r.TrimStart('M').Split('L').Select(q => q.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture)).ToArray()).ToArray()))
                    for (var i = 0; i < ring.Length; i++) Straight(ring[i][0], ring[i][1], ring[(i + 1) % ring.Length][0], ring[(i + 1) % ring.Length][1], (string)p.Attribute("class")!);
            foreach (var n in names)
            {
                Assert.All(names.Where(o => o.Value != n.Value), o => Assert.False(Meets(n, (o.Left, o.Top, o.Right, o.Bottom)), $"{plan}: {n.Value} on {o.Value}"));
                Assert.All(dark, d => Assert.False(Meets(n, (d.Left, d.Top, d.Right, d.Bottom)), $"{plan}: {n.Value} on {d.What}"));
            }

            // Pieces of a line no longer than half a millimetre, each with its box.
            void Straight(double x1, double y1, double x2, double y2, string what)
            {
                var pieces = Math.Max(1, (int)Math.Ceiling(Math.Max(Math.Abs(x2 - x1), Math.Abs(y2 - y1)) / 0.5));
                for (var i = 0; i < pieces; i++)
                {
                    var (a, b) = ((double)i / pieces, (i + 1.0) / pieces);
                    dark.Add((Math.Min(At(x1, x2, a), At(x1, x2, b)), Math.Min(At(y1, y2, a), At(y1, y2, b)), Math.Max(At(x1, x2, a), At(x1, x2, b)), Math.Max(At(y1, y2, a), At(y1, y2, b)), what));
                }
            }
        }

        static double At(double from, double to, double share) => from + (share * (to - from));

        static bool Meets((string, double Left, double Top, double Right, double Bottom) n, (double Left, double Top, double Right, double Bottom) d) => d.Left < n.Right && d.Right > n.Left && d.Top < n.Bottom && d.Bottom > n.Top;
    }

    // Values with their nominal sizes in brackets cost no scale: 107.7 × 84 × 105.1 mm stand at 1:2 on a page (ISO 5455).
    [Theory]
    [InlineData("bearing-pedestal", "1:2")]
    [InlineData("strainer-cover", "1:2")]
    public void The_general_drawing_is_as_large_as_the_page_bears(string template, string scale) =>
        Assert.Contains(XElement.Load(Path.Combine(kits.Of(template).Kit, "drawing-general.svg")).Descendants(), e => e.Name.LocalName == "text" && e.Value == scale);

    // The pedestal's core lies along x in the joint, about y 0.
    [Fact]
    public void The_section_goes_through_the_axis_of_the_core()
    {
        using var document = JsonDocument.Parse(File.ReadAllText(Path.Combine(kits.Of("bearing-pedestal").Kit, "kit.json")));
        var pattern = document.RootElement.GetProperty("pattern");
        Assert.Equal(("y", 0, "the axis of core-1"), (pattern.GetProperty("section_across").GetString(), pattern.GetProperty("section_at_mm").GetDouble(), pattern.GetProperty("section_through").GetString()));
        var drawing = XElement.Load(Path.Combine(kits.Of("bearing-pedestal").Kit, "drawing-section.svg"));
        Assert.Contains(drawing.Descendants(), e => (string?)e.Attribute("class") == "phantom");
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Paper_templates_are_the_outlines_of_the_drawing(string template)
    {
        var made = kits.Of(template);
        var curves = DxfReader.Read(File.ReadAllBytes(Path.Combine(made.Kit, "templates.dxf")), "templates.dxf").Value.Curves.Where(c => c.Layer is "SECTION" or "OUTLINE_COPE" or "OUTLINE_DRAG").Select(c => c.Path.Flatten(0.001)).ToArray();
        Assert.NotEmpty(curves);
        foreach (var file in Pdfs.Skip(1))
        {
            var paths = PageReader.Pdf(Path.Combine(made.Kit, file))[0].SelectMany(p => p.Paths).ToArray();
            foreach (var curve in curves)
            {
                var (left, top) = (curve.Min(p => p.X), curve.Max(p => p.Y));
                var (width, height) = (curve.Max(p => p.X) - left, top - curve.Min(p => p.Y));
                // The drawing's arcs pass the corners of the section within 0.005 mm; paper has the corners.
                Assert.Contains(paths, path => path.Points.Length > 2 && Math.Abs(path.Width - width) < 0.02 && Math.Abs(path.Height - height) < 0.02
                    && path.Points.Min(p => p[0]) is var x && path.Points.Min(p => p[1]) is var y
                    && path.Points.All(p => Distance(curve, p[0] - x + left, top - (p[1] - y)) < 0.02));
            }
        }
    }

    // 600 dpi: a pixel is 0.042 mm. The line at the foot has an upright at either end, 150 mm apart.
    [Theory]
    [InlineData("templates-a4.pdf")]
    [InlineData("templates-letter.pdf")]
    public void A_print_at_600_dpi_is_full_size(string file)
    {
        var made = kits.Of("lever-bracket");
        using var own = new OwnFolder();
        var picture = Path.Combine(own.Path, "page");
        ExternalTool.Output("poppler-utils", "pdftoppm", ["-v"], "-r", "600", "-gray", "-f", "1", "-l", "1", "-singlefile", Path.Combine(made.Kit, file), picture);
        var (width, height, pixels) = Grey(File.ReadAllBytes(picture + ".pgm"));
        // 1.5 mm above the line, which lies 14 mm above the lower edge.
        var row = (int)(height - ((14 + 1.5) / 25.4 * 600));
        var dark = Enumerable.Range(0, width).Where(x => pixels[(row * width) + x] < 128).ToArray();
        var (left, right) = (dark.Where(x => x < width / 2).Average(), dark.Where(x => x > width / 2).Average());
        Assert.Equal(150, (right - left) / 600 * 25.4, 0.1);
    }

    [Fact]
    public void Greek_and_Cyrillic_letters_of_a_title_can_be_searched()
    {
        var made = kits.Of("gland-flange");
        var job = Path.Combine(made.Job, "job.toml");
        using var own = new OwnFolder();
        var into = Path.Combine(own.Path, "letters");
        Directory.CreateDirectory(into);
        foreach (var input in Directory.GetFiles(made.Job)) File.Copy(input, Path.Combine(into, Path.GetFileName(input)), true);
        var text = File.ReadAllText(job);
        File.WriteAllText(Path.Combine(into, "job.toml"), System.Text.RegularExpressions.Regex.Replace(text, "(?m)^title.*$", "title = \"Στυπιοθλίπτης – Втулка № 2\""));
        var run = MadeKits.Do("make", into, "--out", Path.Combine(into, "out"));
        Assert.True(run.Code == 0, run.Error);
        var read = ExternalTool.Output("poppler-utils", "pdftotext", ["-v"], Path.Combine(Directory.GetDirectories(Path.Combine(into, "out")).Single(), "shop-sheet.pdf"), "-");
        Assert.Contains("Στυπιοθλίπτης", read, StringComparison.Ordinal);
        Assert.Contains("Втулка № 2", read, StringComparison.Ordinal);
    }

    // The kits are shared by all tests: nothing is put beside them.
    private sealed class OwnFolder : IDisposable
    {
        public string Path { get; } = Directory.CreateTempSubdirectory("patternkit-test-").FullName;

        public void Dispose() => Directory.Delete(Path, true);
    }

    private static IEnumerable<PageText> Texts(Made made) => PageReader.Pdf(Path.Combine(made.Kit, "shop-sheet.pdf"))[0].SelectMany(p => p.Texts);

    private static string[] Words(string text) => text.Split([' ', '\u00A0', '\u202F', '\n', '\t'], StringSplitOptions.RemoveEmptyEntries);

    private static string Grouped(double value, int decimals) => Math.Round(value, decimals, MidpointRounding.AwayFromZero).ToString("N" + decimals.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture).Replace(',', ' ');

    private static string Short(double value) => Math.Round(value, 2).ToString("#,0.####", CultureInfo.InvariantCulture).Replace(',', ' ');

    private static double Distance(List<Geometry.Numerics.Vec2> ring, double x, double y)
    {
        var (p, best) = (new Geometry.Numerics.Vec2(x, y), double.PositiveInfinity);
        for (var i = 0; i < ring.Count; i++)
        {
            var (a, b) = (ring[i], ring[(i + 1) % ring.Count]);
            var along = b - a;
            var t = along.LengthSquared == 0 ? 0 : Math.Clamp(Geometry.Numerics.Vec2.Dot(p - a, along) / along.LengthSquared, 0, 1);
            best = Math.Min(best, (p - (a + (t * along))).Length);
        }

        return best;
    }

    // The format of netpbm: P5, width, height, greatest value, bytes.
    private static (int Width, int Height, byte[] Pixels) Grey(byte[] file)
    {
        var (at, fields) = (0, new List<int>());
        while (fields.Count < 4)
        {
            var start = at;
            while (!char.IsWhiteSpace((char)file[at])) at++;
            var word = System.Text.Encoding.ASCII.GetString(file, start, at - start);
            fields.Add(word == "P5" ? 5 : int.Parse(word, CultureInfo.InvariantCulture));
            at++;
        }

        return (fields[1], fields[2], file[at..]);
    }
}
