using System.Text;
using PatternKit.Exchange.Dxf;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>The file as such: line ends, letters, units, what is hidden, damage, and files of another kind.</summary>
public sealed class DxfFileTests
{
    private const string Line = "0 LINE|8 A|10 1|20 2|11 3|21 4";

    [Theory]
    [InlineData("\n")]
    [InlineData("\r\n")]
    [InlineData("\r")]
    [InlineData("\r\r\n")]
    public void Line_ends_of_all_systems_are_read(string newLine) =>
        DxfSketch.Same(DxfSketch.Read(DxfSketch.File(Line, newLine: newLine)).Value.Curves[0].Path, false, (1, 2, 0), (3, 4, 0));

    [Fact]
    public void Comments_blanks_before_codes_and_sections_in_another_order_are_read()
    {
        var text = DxfSketch.Lines("999 made by hand|0 SECTION|2 ENTITIES|0 LINE|8 A|999 here|10 1|20 2|11 3|21 4|0 ENDSEC|0 SECTION|2 HEADER|9 $INSUNITS|70 1|0 ENDSEC|0 EOF")
            .Replace("\n8\n", "\n  8\n", StringComparison.Ordinal);
        var drawing = DxfSketch.Read(text).Value;
        Assert.Equal(DxfUnit.Inch, drawing.Unit);
        Assert.Equal("A", Assert.Single(drawing.Curves).Layer);
    }

    [Fact]
    public void The_smallest_R12_file_of_one_section_is_read()
    {
        var result = DxfSketch.Read(DxfSketch.Lines("0 SECTION|2 ENTITIES|" + Line + "|0 ENDSEC|0 EOF"));
        Assert.Equal(DxfUnit.None, result.Value.Unit);
        Assert.Null(result.Value.MillimetresPerUnit);
        Assert.Contains(result.Notes, n => n.Text.Contains("does not state its unit", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(1, DxfUnit.Inch, 25.4)]
    [InlineData(2, DxfUnit.Foot, 304.8)]
    [InlineData(4, DxfUnit.Millimetre, 1)]
    [InlineData(5, DxfUnit.Centimetre, 10)]
    [InlineData(6, DxfUnit.Metre, 1000)]
    [InlineData(9, DxfUnit.Mil, 0.0254)]
    [InlineData(10, DxfUnit.Yard, 914.4)]
    [InlineData(14, DxfUnit.Decimetre, 100)]
    public void The_unit_is_that_of_the_header(int code, DxfUnit unit, double size)
    {
        // Values of $INSUNITS: DXF reference, HEADER section; sizes: international inch 25.4 mm and SI prefixes.
        var drawing = DxfSketch.Read(DxfSketch.File(Line, header: $"9 $INSUNITS|70 {code}")).Value;
        Assert.Equal(unit, drawing.Unit);
        Assert.Equal(size, drawing.MillimetresPerUnit!.Value, 1e-12);
    }

    [Theory]
    [InlineData("9 $INSUNITS|70 0|9 $MEASUREMENT|70 1", "metric")]
    [InlineData("9 $INSUNITS|70 0|9 $MEASUREMENT|70 0", "inches")]
    [InlineData("9 $INSUNITS|70 20", "not one for parts")]
    public void A_unit_that_is_not_stated_is_asked_for_and_never_guessed(string header, string expected)
    {
        var result = DxfSketch.Read(DxfSketch.File(Line, header: header));
        Assert.Equal(DxfUnit.None, result.Value.Unit);
        Assert.Contains(result.Notes, n => n.Text.Contains(expected, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("AC1009", "ANSI_1252", 1252, "Führung")]
    [InlineData("AC1009", "dos850", 850, "Führung")]
    [InlineData("AC1015", "ANSI_1250", 1250, "Žebro")]
    [InlineData("AC1015", "ANSI_1251", 1251, "Фланец")]
    [InlineData("AC1018", "ANSI_932", 932, "鋳型")]
    [InlineData("AC1015", "iso8859-2", 28592, "Žebro")]
    [InlineData("AC1015", "ISO8859-1", 28591, "Führung")]
    [InlineData("AC1015", "mac-roman", 10000, "Führung")]
    [InlineData("AC1021", "ANSI_1252", 65001, "Führung 鋳型")]
    [InlineData("AC1032", "ANSI_1252", 65001, "Фланец")]
    public void Layer_names_are_read_in_the_code_page_of_the_drawing(string version, string page, int number, string layer)
    {
        var encoding = CodePagesEncodingProvider.Instance.GetEncoding(number) ?? Encoding.GetEncoding(number);
        var result = DxfSketch.Read(DxfSketch.File(Line.Replace("8 A", "8 " + layer, StringComparison.Ordinal), header: $"9 $ACADVER|1 {version}|9 $DWGCODEPAGE|3 {page}|9 $INSUNITS|70 4"), encoding);
        Assert.Equal([layer], result.Value.Layers);
        Assert.Empty(result.Notes);
    }

    [Fact]
    public void Escapes_in_layer_names_are_resolved() =>
        Assert.Equal(["Führung"], DxfSketch.Read(DxfSketch.File(Line.Replace("8 A", "8 F\\U+00FChrung", StringComparison.Ordinal))).Value.Layers);

    [Fact]
    public void Letters_without_a_code_page_are_read_as_UTF8_if_they_are_and_it_is_said()
    {
        var result = DxfSketch.Read(DxfSketch.File(Line.Replace("8 A", "8 Führung", StringComparison.Ordinal)), Encoding.UTF8);
        Assert.Equal(["Führung"], result.Value.Layers);
        Assert.Contains(result.Notes, n => n.Text.Contains("UTF-8", StringComparison.Ordinal) && n.Line > 0);
    }

    [Theory]
    [InlineData("0 LAYER|2 A|70 1|62 7", "'A' is frozen")]
    [InlineData("0 LAYER|2 a|70 0|62 -7", "'a' is switched off")]
    public void What_lies_on_a_hidden_layer_is_skipped_aloud(string layer, string expected)
    {
        var result = DxfSketch.Read(DxfSketch.File(Line + "|" + Line.Replace("8 A", "8 B", StringComparison.Ordinal), layers: layer));
        Assert.Equal(["B"], result.Value.Layers);
        Assert.Contains(result.Notes, n => n.Text.Contains("1 LINE not read", StringComparison.Ordinal) && n.Text.Contains(expected, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("67 1", "paper space")]
    [InlineData("60 1", "invisible")]
    public void What_is_in_paper_space_or_invisible_is_skipped_aloud(string group, string expected)
    {
        var result = DxfSketch.Read(DxfSketch.File(Line + "|" + group));
        Assert.Empty(result.Value.Curves);
        Assert.Contains(result.Notes, n => n.Text.Contains(expected, StringComparison.Ordinal));
    }

    [Fact]
    public void A_frozen_layer_hides_an_insert_whole_one_switched_off_only_what_lies_on_it()
    {
        const string block = "0 BLOCK|2 P|10 0|20 0|0 CIRCLE|8 0|10 0|20 0|40 1|0 CIRCLE|8 SEEN|10 0|20 0|40 2|0 ENDBLK";
        Assert.Empty(DxfSketch.Read(DxfSketch.File("0 INSERT|8 H|2 P|10 0|20 0", block, "0 LAYER|2 H|70 1|62 7")).Value.Curves);
        Assert.Equal(["SEEN"], DxfSketch.Read(DxfSketch.File("0 INSERT|8 H|2 P|10 0|20 0", block, "0 LAYER|2 H|70 0|62 -7")).Value.Layers);
    }

    [Fact]
    public void Layer_names_differ_not_by_case()
    {
        var drawing = DxfSketch.Read(DxfSketch.File(Line + "|" + Line.Replace("8 A", "8 a", StringComparison.Ordinal))).Value;
        Assert.Equal(["A"], drawing.Layers);
        Assert.All(drawing.Curves, c => Assert.Equal("A", c.Layer));
    }

    [Fact]
    public void Layers_of_the_table_that_differ_by_case_only_are_kept_apart()
    {
        var lower = Line.Replace("8 A", "8 a", StringComparison.Ordinal);
        Assert.Equal(["A", "a"], DxfSketch.Read(DxfSketch.File(Line + "|" + lower, layers: "0 LAYER|2 A|70 0|62 7|0 LAYER|2 a|70 0|62 7")).Value.Layers);
        Assert.Equal(["A"], DxfSketch.Read(DxfSketch.File(Line + "|" + lower, layers: "0 LAYER|2 A|70 0|62 7")).Value.Layers);
    }

    [Theory]
    [InlineData("10 nan")]
    [InlineData("10 NaN")]
    [InlineData("10 inf")]
    [InlineData("10 Infinity")]
    [InlineData("10 -1e300")]
    [InlineData("10 1e999")]
    [InlineData("10 1e13")]
    [InlineData("10 1,5")]
    [InlineData("10")]
    public void A_number_that_is_none_is_refused_with_its_line(string group)
    {
        var text = DxfSketch.File($"0 LINE|8 A|{group}|20 2|11 3|21 4");
        var line = Array.IndexOf(text.Split('\n'), "LINE") + 5;
        Assert.Contains($"bracket.dxf, line {line}:", DxfSketch.Refused(text).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_coordinate_that_is_missing_is_named() =>
        Assert.Contains("the LINE lacks its group 21", DxfSketch.Refused(DxfSketch.File("0 LINE|8 A|10 1|20 2|11 3")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_file_cut_short_anywhere_is_refused()
    {
        var bytes = Encoding.ASCII.GetBytes(DxfSketch.File(Line, "0 BLOCK|2 P|10 0|20 0|0 CIRCLE|8 0|10 0|20 0|40 1|0 ENDBLK", "0 LAYER|2 A|70 0|62 7"));
        // Up to the last letter of EOF.
        for (var length = 1; length < bytes.Length - 1; length++)
            Assert.Throws<InputException>(() => DxfReader.Read(bytes[..length], "bracket.dxf"));
    }

    [Theory]
    [InlineData("0 SECTION|2 ENTITIES|x LINE|0 ENDSEC|0 EOF", "line 5: found 'x' where a group code")]
    [InlineData("0 SECTION|2 ENTITIES|99999 LINE|0 ENDSEC|0 EOF", "where a group code")]
    [InlineData("0 SECTION|2 ENTITIES|0 SECTION|2 X|0 ENDSEC|0 EOF", "a section begins before")]
    [InlineData("0 SECTION|2 ENTITIES|0 EOF", "does not end")]
    [InlineData("0 LINE|8 A|0 EOF", "where a section must begin")]
    [InlineData("0 SECTION|2 ENTITIES|8 A|0 LINE|0 ENDSEC|0 EOF", "must begin")]
    [InlineData("0 EOF", "no section")]
    public void Groups_out_of_place_are_refused(string groups, string expected) =>
        Assert.Contains(expected, DxfSketch.Refused(DxfSketch.Lines(groups)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_header_that_ends_too_early_is_passed_over_aloud()
    {
        // As written by dxflib 2.0.
        var result = DxfSketch.Read(DxfSketch.Lines("0 SECTION|2 HEADER|9 $ACADVER|1 AC1015|0 ENDSEC|9 $DIMASZ|40 2.5|0 ENDSEC|0 SECTION|2 ENTITIES|" + Line + "|0 ENDSEC|0 EOF"));
        Assert.Single(result.Value.Curves);
        Assert.Contains(result.Notes, n => n.Line == 12 && n.Text.StartsWith("3 groups between", StringComparison.Ordinal));
    }

    public static TheoryData<byte[], string> OtherKinds() => new()
    {
        { [], "empty" },
        { "AutoCAD Binary DXF\r\n\u001a\0\0\0"u8.ToArray(), "a binary DXF, not an ASCII DXF drawing. Save or export the drawing as ASCII DXF" },
        { "AC1032\0\0\0\0"u8.ToArray(), "DWG" },
        { [0x89, 0x50, 0x4E, 0x47, 0x0D, 0x0A, 0x1A, 0x0A], "PNG" },
        { "%PDF-1.7"u8.ToArray(), "PDF" },
        { "PK\u0003\u0004...."u8.ToArray(), "ZIP" },
        { "solid pump\nfacet normal 0 0 1"u8.ToArray(), "STL" },
        { [.. new byte[80], 1, 0, 0, 0, .. new byte[50]], "STL" },
        { "<?xml version=\"1.0\"?><svg/>"u8.ToArray(), "XML" },
        { "ISO-10303-21;"u8.ToArray(), "STEP" },
        { [0xFF, 0xFE, (byte)'0', 0], "UTF-16" },
        { "  \r\n \r\n"u8.ToArray(), "blanks" },
        { "  0\nSECTION\0"u8.ToArray(), "byte 11" },
        { "title = \"Lever bracket\"\nunit = \"mm\"\n"u8.ToArray(), "is no DXF" },
    };

    [Theory]
    [MemberData(nameof(OtherKinds))]
    public void A_file_of_another_kind_is_told_by_name(byte[] content, string expected) =>
        Assert.Contains(expected, Assert.Throws<InputException>(() => DxfReader.Read(content, "bracket.dxf")).Message, StringComparison.Ordinal);

    [Fact]
    public void A_byte_order_mark_is_passed_over() =>
        Assert.Single(DxfReader.Read([0xEF, 0xBB, 0xBF, .. Encoding.ASCII.GetBytes(DxfSketch.File(Line))], "bracket.dxf").Value.Curves);

    [Fact]
    public void A_drawing_without_curves_says_so() =>
        Assert.Contains(DxfSketch.Read(DxfSketch.File("0 POINT|8 A|10 0|20 0")).Notes, n => n.Text == "The drawing shows no curve.");
}
