using System.Text;
using CsCheck;
using PatternKit.Exchange.Dxf;

namespace PatternKit.Exchange.Tests.Dxf;

/// <summary>Sound files with bytes, lines or groups spoilt: a result or a clear refusal, never another exception.</summary>
public sealed class DxfFuzzTests
{
    private static readonly byte[] Sound = Encoding.ASCII.GetBytes(DxfSketch.File(
        "0 LINE|8 A|10 1|20 2|11 3|21 4|0 ARC|8 A|10 1|20 2|40 3|50 10|51 80|0 CIRCLE|8 A|10 1|20 2|40 3|210 0|220 0|230 -1|"
        + "0 ELLIPSE|8 B|10 1|20 2|11 3|21 4|31 0|40 0.5|41 1|42 5|0 LWPOLYLINE|8 B|90 3|70 1|10 0|20 0|42 0.5|10 9|20 0|10 9|20 9|"
        + "0 POLYLINE|8 A|66 1|70 0|0 VERTEX|10 1|20 2|42 1|0 VERTEX|10 4|20 4|0 SEQEND|0 INSERT|8 B|2 P|10 5|20 6|41 2|42 -1|50 30|70 2|71 3|44 5|45 6|"
        + "0 SPLINE|8 C|70 8|71 3|72 9|73 5|40 0|40 0|40 0|40 0|40 1|40 2|40 2|40 2|40 2|41 1|41 2|41 1|41 1|41 1|10 0|20 0|30 0|10 1|20 3|30 0|10 4|20 -2|30 0|10 5|20 5|30 0|10 9|20 0|30 0|"
        + "0 SPLINE|8 C|70 1|71 3|74 4|11 0|21 0|31 0|11 9|21 0|31 0|11 9|21 9|31 0|11 0|21 9|31 0|0 TEXT|8 A|1 note",
        "0 BLOCK|2 P|70 0|10 1|20 1|0 ARC|8 0|10 1|20 2|40 3|50 10|51 80|0 INSERT|8 0|2 Q|10 0|20 0|0 ENDBLK|0 BLOCK|2 Q|10 0|20 0|0 LWPOLYLINE|8 0|90 2|70 1|10 0|20 0|42 1|10 2|20 0|42 1|0 ENDBLK",
        "0 LAYER|2 A|70 0|62 7|0 LAYER|2 C|70 0|62 7"));

    private static readonly string[] Spoilt = ["", "-1", "0", "1e300", "NaN", "2147483647", "-2147483648", "1e-300", "1e8", "SECTION", "ENDSEC", "EOF", "POLYLINE", "INSERT", "P", "Q", "\\U+D800", "\u00ff", "0.5"];

    private static bool Holds(byte[] content)
    {
        try
        {
            var drawing = DxfReader.Read(content, "spoilt.dxf").Value;
            foreach (var layer in drawing.Layers)
                LoopCheck.Demand(LoopChaining.Chain(drawing.Curves.Where(c => c.Layer == layer), 0.01, "spoilt.dxf").Value, 0.01, "spoilt.dxf");
            return true;
        }
        catch (InputException refused)
        {
            return refused.Message.StartsWith("spoilt.dxf", StringComparison.Ordinal);
        }
    }

    [Fact]
    public void The_sound_file_is_read_whole() =>
        Assert.Equal(8 + 12, DxfReader.Read(Sound, "sound.dxf").Value.Curves.Length);

    [Fact]
    public void Spoilt_bytes_never_crash_the_reader() =>
        Gen.Select(Gen.Int[0, Sound.Length - 1], Gen.Byte).Array[1, 6].Sample(
            changes =>
            {
                var bytes = (byte[])Sound.Clone();
                foreach (var (at, value) in changes) bytes[at] = value;
                return Holds(bytes);
            },
            time: 3);

    [Fact]
    public void Spoilt_lines_never_crash_the_reader()
    {
        var lines = Encoding.ASCII.GetString(Sound).Split('\n');
        Gen.Select(Gen.Int[0, lines.Length - 1], Gen.Int[0, Spoilt.Length + 1]).Array[1, 4].Sample(
            changes =>
            {
                var changed = lines.ToList();
                foreach (var (at, how) in changes)
                {
                    if (how < Spoilt.Length) changed[at % changed.Count] = Spoilt[how];
                    else if (how == Spoilt.Length) changed.RemoveRange(at / 2 * 2 % (changed.Count - 2), 2);
                    else changed.InsertRange(at / 2 * 2 % changed.Count, changed.GetRange(0, 2));
                }

                return Holds(Encoding.Latin1.GetBytes(string.Join('\n', changed)));
            },
            time: 4);
    }

    [Fact]
    public void Bytes_of_chance_never_crash_the_reader() =>
        Gen.Byte.Array[0, 300].Sample(Holds, time: 1);
}
