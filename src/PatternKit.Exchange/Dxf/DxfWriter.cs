using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Dxf;

/// <summary>
/// Writes a drawing as ASCII DXF of release 2007 (AC1021), the first whose text is UTF-8: the \U+XXXX escapes of releases
/// before it are not resolved in layer names by every reader. The same drawing always gives the same bytes.
/// Source of the format: the published DXF reference.
/// </summary>
public static class DxfWriter
{
    /// <summary>The bytes of the file.</summary>
    public static byte[] Write(DxfDocument document)
    {
        ArgumentNullException.ThrowIfNull(document);
        // The header names the first free handle, so the rest is written first.
        var body = new DxfGroups();
        var tables = new DxfTableWriter(body);
        body.Add(0, "SECTION");
        body.Add(2, "CLASSES");
        Class(body, "ACDBDICTIONARYWDFLT", "AcDbDictionaryWithDefault");
        Class(body, "ACDBPLACEHOLDER", "AcDbPlaceHolder");
        body.Add(0, "ENDSEC");
        tables.WriteTables(document);
        tables.WriteBlocks();
        body.Add(0, "SECTION");
        body.Add(2, "ENTITIES");
        foreach (var entity in document.Entities) DxfEntityWriter.Write(body, entity, tables.ModelSpace);
        body.Add(0, "ENDSEC");
        Objects(body);
        body.Add(0, "EOF");
        var header = new DxfGroups();
        Header(header, document, body.NextHandle);
        return [.. header.ToBytes(), .. body.ToBytes()];
    }

    private static void Header(DxfGroups groups, DxfDocument document, int nextHandle)
    {
        var (low, high) = Extent(document);
        groups.Add(0, "SECTION");
        groups.Add(2, "HEADER");
        Variable("$ACADVER", 1, "AC1021");
        Variable("$DWGCODEPAGE", 3, "ANSI_1252");
        Variable("$HANDSEED", 5, DxfGroups.Hex(nextHandle));
        groups.Add(9, "$INSUNITS");
        groups.Add(70, (int)document.Unit);
        groups.Add(9, "$MEASUREMENT");
        groups.Add(70, document.Unit == DxfUnit.Inch ? 0 : 1);
        groups.Add(9, "$EXTMIN");
        groups.AddPoint(10, low.X, low.Y);
        groups.Add(9, "$EXTMAX");
        groups.AddPoint(10, high.X, high.Y);
        groups.Add(0, "ENDSEC");

        void Variable(string name, int code, string value)
        {
            groups.Add(9, name);
            groups.Add(code, value);
        }
    }

    // Texts count by their place, since their width depends on the reader's font.
    private static (Vec2 Low, Vec2 High) Extent(DxfDocument document)
    {
        var (low, high) = (new Vec2(double.MaxValue, double.MaxValue), new Vec2(double.MinValue, double.MinValue));
        foreach (var entity in document.Entities)
        {
            var (a, b) = entity switch
            {
                DxfPath path => PathShape.Box(path.Path),
                DxfSpaceLine line => (
                    new(line.Points.Min(p => p.X), line.Points.Min(p => p.Y)), new(line.Points.Max(p => p.X), line.Points.Max(p => p.Y))),
                DxfText text => (text.At, text.At),
                DxfPoint point => (point.At, point.At),
                _ => throw new ArgumentOutOfRangeException(nameof(document)),
            };
            low = new(Math.Min(low.X, a.X), Math.Min(low.Y, a.Y));
            high = new(Math.Max(high.X, b.X), Math.Max(high.Y, b.Y));
        }

        return document.Entities.IsEmpty ? (default, default) : (low, high);
    }

    // Object types of this release that are not built into the format must be declared.
    private static void Class(DxfGroups groups, string record, string name)
    {
        groups.Add(0, "CLASS");
        groups.Add(1, record);
        groups.Add(2, name);
        groups.Add(3, "ObjectDBX Classes");
        groups.Add(90, 0);
        groups.Add(280, 0);
        groups.Add(281, 0);
    }

    // The root dictionary comes first.
    private static void Objects(DxfGroups groups)
    {
        var (root, group, plotStyles, normal) = (groups.NewHandle(), groups.NewHandle(), groups.NewHandle(), groups.NewHandle());
        groups.Add(0, "SECTION");
        groups.Add(2, "OBJECTS");
        Dictionary("DICTIONARY", root, "0", ("ACAD_GROUP", group), ("ACAD_PLOTSTYLENAME", plotStyles));
        Dictionary("DICTIONARY", group, root);
        Dictionary("ACDBDICTIONARYWDFLT", plotStyles, root, ("Normal", normal));
        groups.Add(100, "AcDbDictionaryWithDefault");
        groups.Add(340, normal);
        groups.Add(0, "ACDBPLACEHOLDER");
        groups.Add(5, normal);
        groups.Add(330, plotStyles);
        groups.Add(0, "ENDSEC");

        void Dictionary(string type, string handle, string owner, params ReadOnlySpan<(string Name, string Handle)> entries)
        {
            groups.Add(0, type);
            groups.Add(5, handle);
            groups.Add(330, owner);
            groups.Add(100, "AcDbDictionary");
            groups.Add(281, 1);
            foreach (var (name, entry) in entries)
            {
                groups.Add(3, name);
                groups.Add(350, entry);
            }
        }
    }
}
