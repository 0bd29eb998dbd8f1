using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.ObjFormat;

/// <summary>What an OBJ file says, before polygons are cut.</summary>
/// <param name="Vertices">Positions in the order of the file.</param>
/// <param name="Corners">Vertex numbers from 0 of all polygons, one after the other; not yet held against the number of vertices.</param>
/// <param name="Polygons">For each polygon its first corner, the number of its corners, and its line.</param>
internal sealed record ObjShape(List<Vec3> Vertices, List<int> Corners, List<(int First, int Count, int Line)> Polygons);
