using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;

namespace PatternKit.Exchange.Dxf;

/// <summary>Writes the ENTITIES records.</summary>
internal static class DxfEntityWriter
{
    private const double Degree = 180 / Math.PI;

    public static void Write(DxfGroups groups, DxfEntity entity, string owner)
    {
        switch (entity)
        {
            case DxfPath path:
                Path(groups, path, owner);
                break;
            case DxfSpaceLine line:
                SpaceLine(groups, line, owner);
                break;
            case DxfText text:
                Begin(groups, "TEXT", "AcDbText", text.Layer, owner);
                groups.AddPoint(10, text.At.X, text.At.Y);
                groups.Add(40, text.Height);
                // A caret begins a control character; "^ " is the caret itself.
                groups.Add(1, text.Content.Replace("^", "^ ", StringComparison.Ordinal));
                groups.Add(50, text.Turn * Degree);
                groups.Add(7, "Standard");
                groups.Add(100, "AcDbText");
                break;
            case DxfPoint point:
                Begin(groups, "POINT", "AcDbPoint", point.Layer, owner);
                groups.AddPoint(10, point.At.X, point.At.Y);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(entity));
        }
    }

    private static void Path(DxfGroups groups, DxfPath entity, string owner)
    {
        var path = entity.Path;
        if (PathShape.IsLine(path))
        {
            Begin(groups, "LINE", "AcDbLine", entity.Layer, owner);
            groups.AddPoint(10, path.Vertices[0].Point.X, path.Vertices[0].Point.Y);
            groups.AddPoint(11, path.Vertices[1].Point.X, path.Vertices[1].Point.Y);
        }
        else if (PathShape.IsArc(path))
        {
            var arc = path.Segment(0);
            Round(groups, "ARC", entity.Layer, owner, arc.Centre, arc.Radius);
            groups.Add(100, "AcDbArc");
            var (from, to) = arc.Bulge > 0 ? (arc.Start, arc.End) : (arc.End, arc.Start);
            groups.Add(50, Angle(from - arc.Centre));
            groups.Add(51, Angle(to - arc.Centre));
        }
        else if (PathShape.Circle(path) is { } circle)
        {
            Round(groups, "CIRCLE", entity.Layer, owner, circle.Centre, circle.Radius);
        }
        else
        {
            Polyline(groups, entity.Layer, owner, path);
        }
    }

    private static void Polyline(DxfGroups groups, string layer, string owner, PlanPath path)
    {
        Begin(groups, "LWPOLYLINE", "AcDbPolyline", layer, owner);
        groups.Add(90, path.Vertices.Length);
        groups.Add(70, path.IsClosed ? 1 : 0);
        foreach (var v in path.Vertices)
        {
            groups.Add(10, v.Point.X);
            groups.Add(20, v.Point.Y);
            if (v.Bulge != 0) groups.Add(42, v.Bulge);
        }
    }

    // Flag 8: in three dimensions; 32: a vertex of such a line. The vertices are records of their own, owned by the line, and SEQEND ends them.
    private static void SpaceLine(DxfGroups groups, DxfSpaceLine line, string owner)
    {
        var handle = Begin(groups, "POLYLINE", "AcDb3dPolyline", line.Layer, owner);
        groups.AddPoint(10, 0, 0);
        groups.Add(70, line.IsClosed ? 9 : 8);
        foreach (var p in line.Points)
        {
            Begin(groups, "VERTEX", "AcDbVertex", line.Layer, handle);
            groups.Add(100, "AcDb3dPolylineVertex");
            groups.Add(10, p.X);
            groups.Add(20, p.Y);
            groups.Add(30, p.Z);
            groups.Add(70, 32);
        }

        groups.Add(0, "SEQEND");
        groups.Add(5, groups.NewHandle());
        groups.Add(330, handle);
        groups.Add(100, "AcDbEntity");
        groups.Add(8, line.Layer);
    }

    private static void Round(DxfGroups groups, string type, string layer, string owner, Vec2 centre, double radius)
    {
        Begin(groups, type, "AcDbCircle", layer, owner);
        groups.AddPoint(10, centre.X, centre.Y);
        groups.Add(40, radius);
    }

    private static double Angle(Vec2 arm)
    {
        var degrees = Math.Atan2(arm.Y, arm.X) * Degree;
        return degrees < 0 ? degrees + 360 : degrees;
    }

    private static string Begin(DxfGroups groups, string type, string subclass, string layer, string owner)
    {
        var handle = groups.NewHandle();
        groups.Add(0, type);
        groups.Add(5, handle);
        groups.Add(330, owner);
        groups.Add(100, "AcDbEntity");
        groups.Add(8, layer);
        groups.Add(100, subclass);
        return handle;
    }
}
