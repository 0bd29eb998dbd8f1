using System.Buffers.Binary;
using System.Text;
using CsCheck;
using PatternKit.Exchange.Stl;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Stl;

/// <summary>
/// Layout of the binary form: 80 bytes of header, uint32 count, 50 bytes a facet (StereoLithography Interface
/// Specification, 3D Systems 1989, as given by the Library of Congress format description fdd000505).
/// </summary>
public class StlBinaryTests
{
    [Fact]
    public void What_is_written_reads_back_the_same()
    {
        var ring = Bodies.Ring(40, 9, 30, 12);
        var read = StlReader.Read(StlWriter.Write(ring, "ring"), "ring.stl");
        Assert.Empty(read.Notes);
        Assert.Equal(ring.Triangles(), read.Value.Triangles());
        var report = MeshInspection.Inspect(read.Value);
        Assert.True(report.IsValid, report.ToString());
        Assert.Equal(ring.Vertices.Length, read.Value.Vertices.Length);
    }

    [Fact]
    public void The_bytes_are_laid_out_as_the_format_says()
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "gland flange, mm");
        Assert.Equal(84 + (12 * 50), bytes.Length);
        Assert.Equal("gland flange, mm", Encoding.ASCII.GetString(bytes, 0, 80).TrimEnd());
        Assert.Equal(12u, BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(80)));
        float At(int i) => BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(84 + (4 * i)));
        Assert.Equal([0f, 0, -1, 0, 0, 0, 1, 2, 0, 1, 0, 0], Enumerable.Range(0, 12).Select(At));
        Assert.Equal([0, 0], bytes[132..134]);
    }

    [Fact]
    public void Normals_are_those_of_the_rounded_corners()
    {
        // In double the facet leans over; after rounding to float32 it stands upright.
        var thin = new TriangleMesh([new(1, 0, 0), new(1 + 1e-9, 1, 0), new(1, 0, 1)], [new(0, 1, 2)]);
        var bytes = StlWriter.Write(thin, "");
        Assert.Equal(1f, BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(84)));
        Assert.Equal(0f, BinaryPrimitives.ReadSingleLittleEndian(bytes.AsSpan(88)));
    }

    [Fact]
    public void The_rounding_change_is_zero_for_float32_coordinates_and_the_largest_one_else()
    {
        Assert.Equal(0, StlWriter.RoundingChange(Bodies.Ring(40, 9, 30, 12)));
        var box = Bodies.Box(1, 0.1, 3);
        Assert.Equal((double)0.1f - 0.1, StlWriter.RoundingChange(box));
    }

    [Theory]
    [InlineData("solid box")]
    [InlineData("  SOLID")]
    public void A_header_that_begins_like_the_text_form_is_a_misuse(string header) =>
        Assert.Throws<ArgumentException>(() => StlWriter.Write(Bodies.Box(1, 1, 1), header));

    [Fact]
    public void Coordinates_beyond_float32_are_a_misuse()
    {
        Assert.Throws<ArgumentException>(() => StlWriter.Write(Bodies.Box(1e39, 1, 1), ""));
        Assert.Throws<ArgumentException>(() => StlWriter.Write(Bodies.Box(double.NaN, 1, 1), ""));
    }

    [Fact]
    public void A_long_header_is_cut_and_keeps_to_ascii()
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 1, 1), "vee pulley ø60 " + new string('x', 100));
        Assert.StartsWith("vee pulley ?60 xxx", Encoding.ASCII.GetString(bytes, 0, 80));
        Assert.Equal(12u, BinaryPrimitives.ReadUInt32LittleEndian(bytes.AsSpan(80)));
    }

    [Fact]
    public void A_binary_file_whose_header_says_solid_is_still_binary()
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "");
        "solid exported facet"u8.CopyTo(bytes);
        var read = StlReader.Read(bytes, "box.stl");
        Assert.Equal(12, read.Value.Facets.Length);
        Assert.Empty(read.Notes);
    }

    [Theory]
    [InlineData(0u)]
    [InlineData(5u)]
    [InlineData(13u)]
    [InlineData(uint.MaxValue)]
    public void A_count_that_lies_gives_way_to_the_length_and_is_noted(uint count)
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "");
        "solid"u8.CopyTo(bytes);
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(80), count);
        var read = StlReader.Read(bytes, "box.stl");
        Assert.Equal(12, read.Value.Facets.Length);
        var note = Assert.Single(read.Notes);
        Assert.Contains(count.ToString(System.Globalization.CultureInfo.InvariantCulture), note.Text);
        Assert.Contains("12 were read", note.Text);
    }

    [Fact]
    public void Bytes_after_the_last_facet_are_skipped_and_noted()
    {
        byte[] bytes = [.. StlWriter.Write(Bodies.Box(1, 2, 3), ""), .. new byte[117]];
        var read = StlReader.Read(bytes, "box.stl");
        Assert.Equal(12, read.Value.Facets.Length);
        Assert.Contains("117 bytes", Assert.Single(read.Notes).Text);
    }

    [Fact]
    public void A_file_cut_off_within_a_facet_gives_what_is_whole_and_says_so()
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "")[..^70];
        var read = StlReader.Read(bytes, "box.stl");
        Assert.Equal(10, read.Value.Facets.Length);
        Assert.Equal(2, read.Notes.Length);
    }

    [Theory]
    [InlineData(float.NaN, "finite")]
    [InlineData(float.NegativeInfinity, "finite")]
    [InlineData(3e30f, "beyond")]
    public void A_coordinate_that_is_no_length_is_refused_with_its_byte(float value, string says)
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "");
        BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(84 + 50 + 12 + 4), value);
        var e = Assert.Throws<InputException>(() => StlReader.Read(bytes, "box.stl"));
        Assert.StartsWith("box.stl, byte 150: ", e.Message);
        Assert.Contains(says, e.Message);
    }

    [Fact]
    public void A_normal_that_is_not_a_number_does_not_matter()
    {
        var bytes = StlWriter.Write(Bodies.Box(1, 2, 3), "");
        BinaryPrimitives.WriteSingleLittleEndian(bytes.AsSpan(84), float.NaN);
        Assert.Equal(12, StlReader.Read(bytes, "box.stl").Value.Facets.Length);
    }

    [Fact]
    public void Facets_with_two_equal_corners_are_dropped_and_noted()
    {
        var box = Bodies.Box(1, 2, 3);
        var bytes = StlWriter.Write(new(box.Vertices.Add(new(9, 9, 9)), box.Facets.Add(new(8, 8, 1))), "");
        var read = StlReader.Read(bytes, "box.stl");
        Assert.Equal((12, 8), (read.Value.Facets.Length, read.Value.Vertices.Length));
        Assert.Contains("1 facets with two corners", Assert.Single(read.Notes).Text);
    }

    [Theory]
    [InlineData(new byte[0], "empty")]
    [InlineData(new byte[] { (byte)'P', (byte)'K', 3, 4, 0, 0 }, "3MF")]
    [InlineData(new byte[] { 0, 1, 2 }, "within its header")]
    public void Files_that_are_no_stl_are_refused_by_name(byte[] content, string says)
    {
        var e = Assert.Throws<InputException>(() => StlReader.Read(content, "part.stl"));
        Assert.StartsWith("part.stl", e.Message);
        Assert.Contains(says, e.Message);
    }

    [Fact]
    public void A_file_without_facets_is_refused()
    {
        var bytes = StlWriter.Write(new TriangleMesh([], []), "");
        Assert.Contains("no facet", Assert.Throws<InputException>(() => StlReader.Read(bytes, "a.stl")).Message);
    }

    [Fact]
    public void Random_bodies_survive_the_round_trip_bit_by_bit()
    {
        var number = Gen.Float[-1e6f, 1e6f].Select(x => (double)x);
        var vertex = Gen.Select(number, number, number, (x, y, z) => new Vec3(x, y, z));
        Gen.Select(vertex.Array[3, 40], Gen.Int[1, 60]).Sample((vertices, n) =>
        {
            var facets = Enumerable.Range(0, n).Select(i => new Facet(i % vertices.Length, (i + 1) % vertices.Length, (i + 2) % vertices.Length));
            var mesh = new TriangleMesh([.. vertices], [.. facets]);
            Assert.Equal(0, StlWriter.RoundingChange(mesh));
            var bytes = StlWriter.Write(mesh, "random");
            Assert.Equal(bytes, StlWriter.Write(mesh, "random"));
            Assert.Equal(mesh.Triangles(), StlReader.Read(bytes, "r.stl").Value.Triangles());
        }, iter: 200);
    }

    [Fact]
    public void Damaged_files_are_read_or_refused_and_nothing_else()
    {
        var whole = StlWriter.Write(Bodies.Box(1, 2, 3), "damaged");
        Gen.Select(Gen.Int[0, whole.Length], Gen.Int[0, whole.Length - 1], Gen.Byte, Gen.Byte.Array[0, 200]).Sample((cut, at, value, tail) =>
        {
            var bytes = (byte[])whole.Clone();
            bytes[at] = value;
            OnlyInputExceptions(bytes[..cut]);
            OnlyInputExceptions([.. bytes, .. tail]);
            OnlyInputExceptions(tail);
            OnlyInputExceptions([.. "solid "u8, .. tail]);
        }, iter: 2000);
    }

    private static void OnlyInputExceptions(byte[] bytes)
    {
        try
        {
            Assert.All(StlReader.Read(bytes, "x.stl").Value.Vertices, v => Assert.True(v.IsFinite));
        }
        catch (InputException e)
        {
            Assert.StartsWith("x.stl", e.Message);
        }
    }
}
