namespace PatternKit.Exchange.Dxf;

/// <summary>Writes the TABLES and BLOCKS sections, with the records that strict readers look for.</summary>
internal sealed class DxfTableWriter(DxfGroups groups)
{
    /// <summary>Handle of the block record of the model space, owner of all entities.</summary>
    public string ModelSpace { get; } = groups.NewHandle();

    private readonly string _paperSpace = groups.NewHandle();

    /// <summary>The tables, in the order of the DXF reference.</summary>
    public void WriteTables(DxfDocument document)
    {
        groups.Add(0, "SECTION");
        groups.Add(2, "TABLES");
        Table("VPORT", 0, _ => { });
        Table("LTYPE", 5, owner => LineTypes(owner, document.Unit == DxfUnit.Inch ? 1 / 25.4 : 1));
        var layers = document.Layers.Any(l => l.Name == "0") ? document.Layers : document.Layers.Insert(0, new("0"));
        Table("LAYER", layers.Length, owner =>
        {
            foreach (var layer in layers) Layer(owner, layer);
        });
        Table("STYLE", 1, Style);
        Table("VIEW", 0, _ => { });
        Table("UCS", 0, _ => { });
        Table("APPID", 1, owner =>
        {
            Entry(owner, "APPID", "AcDbRegAppTableRecord", "ACAD");
            groups.Add(70, 0);
        });
        Table("DIMSTYLE", 1, owner =>
        {
            Entry(owner, "DIMSTYLE", "AcDbDimStyleTableRecord", "Standard");
            groups.Add(70, 0);
        });
        Table("BLOCK_RECORD", 2, owner =>
        {
            foreach (var (name, handle) in (ReadOnlySpan<(string, string)>)[("*Model_Space", ModelSpace), ("*Paper_Space", _paperSpace)])
            {
                Entry(owner, "BLOCK_RECORD", "AcDbBlockTableRecord", name, handle);
                groups.Add(70, (int)document.Unit);
                groups.Add(280, 1);
                groups.Add(281, 0);
            }
        });
        groups.Add(0, "ENDSEC");
    }

    /// <summary>The two empty blocks that stand for model space and paper space.</summary>
    public void WriteBlocks()
    {
        groups.Add(0, "SECTION");
        groups.Add(2, "BLOCKS");
        Block("*Model_Space", ModelSpace, paper: false);
        Block("*Paper_Space", _paperSpace, paper: true);
        groups.Add(0, "ENDSEC");
    }

    private void Table(string name, int count, Action<string> entries)
    {
        var handle = groups.NewHandle();
        groups.Add(0, "TABLE");
        groups.Add(2, name);
        groups.Add(5, handle);
        groups.Add(330, "0");
        groups.Add(100, "AcDbSymbolTable");
        groups.Add(70, count);
        if (name == "DIMSTYLE") groups.Add(100, "AcDbDimStyleTable");
        entries(handle);
        groups.Add(0, "ENDTAB");
    }

    private void Entry(string owner, string type, string subclass, string name, string? handle = null)
    {
        groups.Add(0, type);
        groups.Add(type == "DIMSTYLE" ? 105 : 5, handle ?? groups.NewHandle());
        groups.Add(330, owner);
        groups.Add(100, "AcDbSymbolTableRecord");
        groups.Add(100, subclass);
        groups.Add(2, name);
    }

    private void LineTypes(string owner, double unitsPerMillimetre)
    {
        LineType(owner, "ByBlock", "", []);
        LineType(owner, "ByLayer", "", []);
        LineType(owner, Name(DxfLineType.Continuous), "Solid line", []);
        // Dash and gap of ISO 128-2 line types 02 and 08 (12d 3d; 24d 3d 6d 3d) for a line width d of 0.5 mm (memory).
        LineType(owner, Name(DxfLineType.Dashed), "Dashed __ __ __", [6 * unitsPerMillimetre, -1.5 * unitsPerMillimetre]);
        LineType(owner, Name(DxfLineType.Center), "Long and short dash ____ _ ____",
            [12 * unitsPerMillimetre, -1.5 * unitsPerMillimetre, 3 * unitsPerMillimetre, -1.5 * unitsPerMillimetre]);
    }

    private void LineType(string owner, string name, string description, double[] dashes)
    {
        Entry(owner, "LTYPE", "AcDbLinetypeTableRecord", name);
        groups.Add(70, 0);
        groups.Add(3, description);
        groups.Add(72, 65);
        groups.Add(73, dashes.Length);
        groups.Add(40, dashes.Sum(Math.Abs));
        foreach (var dash in dashes)
        {
            groups.Add(49, dash);
            groups.Add(74, 0);
        }
    }

    private void Layer(string owner, DxfLayer layer)
    {
        Entry(owner, "LAYER", "AcDbLayerTableRecord", layer.Name);
        groups.Add(70, 0);
        groups.Add(62, 7);
        groups.Add(6, Name(layer.LineType));
    }

    private void Style(string owner)
    {
        Entry(owner, "STYLE", "AcDbTextStyleTableRecord", "Standard");
        groups.Add(70, 0);
        groups.Add(40, 0.0);
        groups.Add(41, 1.0);
        groups.Add(50, 0.0);
        groups.Add(71, 0);
        groups.Add(42, 2.5);
        groups.Add(3, "txt");
        groups.Add(4, "");
    }

    private void Block(string name, string record, bool paper)
    {
        Begin("BLOCK", "AcDbBlockBegin");
        groups.Add(2, name);
        groups.Add(70, 0);
        groups.AddPoint(10, 0, 0);
        groups.Add(3, name);
        groups.Add(1, "");
        Begin("ENDBLK", "AcDbBlockEnd");

        void Begin(string type, string subclass)
        {
            groups.Add(0, type);
            groups.Add(5, groups.NewHandle());
            groups.Add(330, record);
            groups.Add(100, "AcDbEntity");
            if (paper) groups.Add(67, 1);
            groups.Add(8, "0");
            groups.Add(100, subclass);
        }
    }

    private static string Name(DxfLineType type) => type switch
    {
        DxfLineType.Dashed => "DASHED",
        DxfLineType.Center => "CENTER",
        _ => "Continuous",
    };
}
