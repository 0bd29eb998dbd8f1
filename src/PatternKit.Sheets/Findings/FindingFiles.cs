using System.Collections.Immutable;
using System.Globalization;
using PatternKit.Exchange.ThreeMf;
using PatternKit.Geometry.Mesh;
using PatternKit.Patterns;
using PatternKit.Sheets.Pictures;
using PatternKit.Sheets.Texts;

namespace PatternKit.Sheets.Findings;

/// <summary>Makes the files that show what was found on a part that is a mesh. Pure: nothing touches the disk.</summary>
public static class FindingFiles
{
    /// <summary>A picture, and for a closed mesh the mesh itself with a colour and a name for each finding.</summary>
    /// <param name="name">What the files are named by.</param>
    /// <param name="title">What they show.</param>
    /// <param name="mesh">The part, z along the draw.</param>
    /// <param name="joint_mm">Height of the joint; null for a mesh that bounds no body.</param>
    /// <param name="findings">In the order of their numbers, from 1.</param>
    public static ImmutableArray<KitFile> Render(string name, string title, TriangleMesh mesh, double? joint_mm, ImmutableArray<Finding> findings)
    {
        var picture = new KitFile($"{name}-findings.png", MeshPictures.Findings(title, mesh, joint_mm, findings));
        // 3MF takes closed bodies only.
        return joint_mm is null ? [picture] : [picture, new($"{name}-findings.3mf", Coloured(title, mesh, findings))];
    }

    /// <summary>
    /// Colours that people who see colours differently tell apart (Okabe and Ito 2008), over and over; names tell all that colours do. A facet in several findings has the
    /// colour of the first.
    /// </summary>
    private static byte[] Coloured(string title, TriangleMesh mesh, ImmutableArray<Finding> findings)
    {
        ReadOnlySpan<(byte Red, byte Green, byte Blue)> palette = [(213, 94, 0), (0, 114, 178), (240, 228, 66), (0, 158, 115), (204, 121, 167), (86, 180, 233), (230, 159, 0)];
        var colours = ImmutableArray.CreateBuilder<NamedColour>();
        colours.Add(new("the part", 210, 210, 210));
        var of = new int[mesh.Facets.Length];
        for (var i = 0; i < findings.Length; i++)
        {
            if (findings[i].Facets.IsEmpty) continue;
            var (red, green, blue) = palette[(colours.Count - 1) % palette.Length];
            colours.Add(new(string.Create(CultureInfo.InvariantCulture, $"{i + 1} {findings[i].Code}"), red, green, blue));
            foreach (var f in findings[i].Facets)
                if (of[f] == 0) of[f] = colours.Count - 1;
        }

        return ThreeMfWriter.Write(CleanText.Of(title), mesh, new(colours.ToImmutable(), [.. of]), new(CleanText.Of(title), "PatternKit"));
    }
}
