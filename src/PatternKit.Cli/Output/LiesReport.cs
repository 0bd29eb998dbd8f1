using System.Collections.Immutable;
using System.Text.Json.Nodes;
using PatternKit.Cli.Files;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Mesh;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Meshes;
using PatternKit.Sheets.Pictures;
using Spectre.Console;
using static System.FormattableString;

namespace PatternKit.Cli.Output;

/// <summary>The ways in which a mesh can lie and part, the best first.</summary>
/// <param name="Path">The file.</param>
/// <param name="Mesh">As read and mended.</param>
/// <param name="Part_mm3">Volume of the part.</param>
/// <param name="Lies">The ways.</param>
/// <param name="Weights">What counts how much.</param>
/// <param name="Notes">What was repaired or guessed while reading.</param>
internal sealed record LiesReport(string Path, TriangleMesh Mesh, double Part_mm3, ImmutableArray<RankedLie> Lies, LyingTable Weights, ImmutableArray<ReadNote> Notes)
{
    /// <summary>Ranks them.</summary>
    /// <exception cref="InputException">The mesh bounds no body.</exception>
    public static LiesReport Of(string path, MeshPart part, FoundryTables tables)
    {
        var (mesh, report) = part.Mended;
        if (!report.IsMended) throw new InputException(path, "", $"{MeshFindings.Open(report).Message} \"patternkit check\" says more.");
        var weights = tables.Lying;
        return new(path, mesh, mesh.Volume(), MeshLies.Rank(mesh, DraftRule.UsualSkin, weights, tables.Draft), weights, part.Notes);
    }

    /// <summary>Writes it for people.</summary>
    public void Write(Terminal terminal)
    {
        var to = terminal.Results;
        to.WriteLine(Invariant($"{Path}: {Part_mm3 / 1000:0.##} cm³; the ways it can lie, the best first"));
        var table = new Table().Border(TableBorder.Simple).AddColumns("", "up", "because of", "joint", "caught", "recesses", "flat back", "depth", "upright", "against it");
        foreach (var (way, i) in Lies.Select((l, i) => (l, i)))
        {
            var lie = way.Lie;
            table.AddRow(
                new Text($"{i + 1}"), new Text(Name(lie.Up)), new Text(Why(way.Source)), new Text(Invariant($"{lie.Joint_mm - lie.Range.Low:0.#} mm up")),
                new Text(Volume(lie.Caught_mm3)), new Text(Volume(lie.Added_mm3 - lie.Caught_mm3)), new Text(lie.FlatBack_mm2 > 0 ? Invariant($"{100 * lie.FlatShare:0} %") : "none"),
                new Text(Invariant($"{lie.Range.Length:0.#} mm")), new Text(Invariant($"{lie.Walls.Area_mm2 / 100:0.#} cm²")), new Text(Invariant($"{way.Cost.Sum:0.##}")));
        }

        terminal.Write(table);
        to.WriteLine("  up: points out of the cope, in the axes of the file. joint: height over the lowest point.");
        to.WriteLine("  caught: behind the draw wherever the joint is: to be cored, or filled and machined. recesses: left to the other half's sand, or filled.");
        to.WriteLine("  flat back: of the projected area. upright: skin with less draft than asked.");
        to.WriteLine(Invariant($"  against it: {Weights.Caught.Value:0.#} × share caught + {Weights.Recess.Value:0.#} × share in recesses + {Weights.NotFlat.Value:0.#} × share not flat + {Weights.Depth.Value:0.#} × depth over diagonal + {Weights.Upright.Value:0.#} × share upright, what leans over twice ({Weights.Caught.From.Text})."));
        FindingText.Write(to, Notes);
    }

    /// <summary>The ways drawn side by side, as PNG.</summary>
    public byte[] Picture() => MeshPictures.Ways(System.IO.Path.GetFileName(Path), [.. Lies.Select(l =>
    {
        var frame = DirectionFrame.Along(l.Lie.Up);
        return (
            Invariant($"up along {Name(l.Lie.Up)} of the file, joint {l.Lie.Joint_mm - l.Lie.Range.Low:0.#} mm up; caught: {Volume(l.Lie.Caught_mm3)}; recesses: {Volume(l.Lie.Added_mm3 - l.Lie.Caught_mm3)}; against it {l.Cost.Sum:0.##}"),
            Mesh.Mapped(frame.FromSpace), l.Lie.Joint_mm, MeshFindings.Of(l.Lie));
    })]);

    /// <summary>The same for scripts.</summary>
    /// <param name="files">What was drawn.</param>
    public JsonObject Json(IReadOnlyList<string> files) => new()
    {
        ["file"] = Path,
        ["part_mm3"] = Part_mm3,
        ["lies"] = JsonText.List(Lies.Select(l => new JsonObject
        {
            ["lie"] = MeshPartReport.Json(l.Lie),
            ["tried_because"] = Why(l.Source),
            ["cost"] = new JsonObject { ["caught"] = l.Cost.Caught, ["recess"] = l.Cost.Recess, ["not_flat"] = l.Cost.NotFlat, ["depth"] = l.Cost.Depth, ["upright"] = l.Cost.Upright, ["sum"] = l.Cost.Sum },
        })),
        ["notes"] = DrawingReport.Json(Notes),
        ["files"] = JsonText.Words(files),
    };

    private string Volume(double mm3) => mm3 < 1e-4 * Part_mm3 ? "nothing" : Invariant($"{mm3 / 1000:0.##} cm³");

    private static string Name(Vec3 d)
    {
        const double Along = 0.9999;
        if (Math.Abs(d.X) > Along) return d.X > 0 ? "x" : "-x";
        if (Math.Abs(d.Y) > Along) return d.Y > 0 ? "y" : "-y";
        if (Math.Abs(d.Z) > Along) return d.Z > 0 ? "z" : "-z";
        return Invariant($"({d.X + 0.0:0.##}, {d.Y + 0.0:0.##}, {d.Z + 0.0:0.##})").Replace("-0,", "0,", StringComparison.Ordinal);
    }

    private static string Why(DirectionSource source) => source switch
    {
        DirectionSource.FlatFace => "a flat face",
        DirectionSource.CoordinateAxis => "an axis of the file",
        DirectionSource.PrincipalAxis => "an axis of its mass",
        _ => "an even spread",
    };
}
