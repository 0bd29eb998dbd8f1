namespace PatternKit.Cli.Tests.EndToEnd;

/// <summary>Every DXF file of every template against the audit of ezdxf (Debian package python3-ezdxf), an independent reader.</summary>
public sealed class DrawingFileTests(MadeKits kits)
{
    // Errors found, errors repaired, unit ($INSUNITS, 4 for millimetres) and number of entities.
    private const string Script =
        """
        import sys, ezdxf
        for f in sys.argv[1:]:
            d = ezdxf.readfile(f)
            a = d.audit()
            print(len(a.errors), len(a.fixes), d.header.get("$INSUNITS", -1), len(d.modelspace()), d.dxfversion, "; ".join(e.message for e in a.errors + a.fixes))
        """;

    [Theory]
    [MemberData(nameof(MadeKits.Names), MemberType = typeof(MadeKits))]
    public void An_independent_reader_finds_no_error_in_the_drawings(string template)
    {
        var files = kits.Of(template).Files("*.dxf").ToArray();
        Assert.Equal(["cutting.dxf", "layout.dxf", "parting.dxf", "templates.dxf"], files.Select(f => Path.GetFileName(f)));
        var lines = ExternalTool.Output("python3-ezdxf", "/usr/bin/python3", ["-c", "import ezdxf"], ["-c", Script, .. files]).TrimEnd().Split('\n');
        Assert.Equal(files.Length, lines.Length);
        foreach (var (file, line) in files.Zip(lines))
        {
            var what = $"{template} {Path.GetFileName(file)}: {line}";
            var fields = line.Split(' ');
            Assert.True(fields is ["0", "0", "4", ..], what);
            Assert.True(int.Parse(fields[3], System.Globalization.CultureInfo.InvariantCulture) > 0, what);
            Assert.True(string.CompareOrdinal(fields[4], "AC1015") >= 0, $"older than R2000: {what}");
        }
    }
}
