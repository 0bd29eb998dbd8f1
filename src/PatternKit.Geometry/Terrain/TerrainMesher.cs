using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Triangulation;

namespace PatternKit.Geometry.Terrain;

/// <summary>Named tolerances of terrain meshing.</summary>
/// <param name="Error_mm">Largest distance between facets and the true terrain.</param>
/// <param name="Spacing_mm">Points are never put closer together than this: details below it do not matter.</param>
/// <param name="MaxPoints">Refinement gives up here; a guard, not a setting.</param>
public readonly record struct MeshingTolerance(double Error_mm = 0.01, double Spacing_mm = 0.001, int MaxPoints = 400_000)
{
    /// <summary>Points closer than this become one: the direction of a shorter edge would be a matter of rounding.</summary>
    internal double Apart(Lattice lattice) => Math.Max(Spacing_mm, 16 * lattice.Step);
}

/// <summary>
/// Meshes a terrain over a domain by greedy refinement (Garland and Heckbert 1995) of a constrained Delaunay
/// triangulation: the triangle that is worst gets the point where the surfaces seen in it meet, or failing that the
/// worst sample. Every point has the height of the terrain there, so the result is a valid
/// terrain whatever the accuracy. The rim of the domain is never split.
/// </summary>
internal sealed partial class TerrainMesher
{
    /// <summary>Zone bit of the domain.</summary>
    public const int Domain = 1;

    /// <summary>Part of the worst error from which on a triangle is improved in the same round.</summary>
    private const double Nearly = 0.5;

    /// <summary>Of a curved terrain the worst place lies between the samples: they keep this part of the tolerance.</summary>
    private const double BetweenSamples = 0.75;

    /// <summary>Part of the tolerance within which two surfaces are one at a corner.</summary>
    private const double Same = 0.01;

    /// <summary>Zone bit of pockets sunk from the terrain.</summary>
    public const int Pocket = 2;

    /// <summary>Where a triangle is compared with the terrain, in parts of its two sides: inside, in the middles of its sides, near its corners.</summary>
    private static readonly (double U, double V)[] Samples = [(1 / 3.0, 1 / 3.0), (0.5, 0), (0, 0.5), (0.5, 0.5), (0.1, 0.1), (0.8, 0.1), (0.1, 0.8)];

    /// <summary>Where further surfaces are looked for in one with too little draft.</summary>
    private static readonly (double U, double V)[] Corners =
    [
        (0.01, 0.01), (0.98, 0.01), (0.01, 0.98), (0.05, 0), (0.95, 0), (0, 0.05), (0, 0.95), (0.95, 0.05), (0.05, 0.95), (0.001, 0.001), (0.998, 0.001),
        (0.001, 0.998),
    ];

    private readonly ITerrainField field;
    private readonly ITerrainField? ground;
    private readonly Lattice lattice;
    private readonly MeshingTolerance tolerance;
    private readonly ZonedTriangulation zoned;
    private readonly PlanTriangulation triangles;
    private readonly List<double> heights = [];
    private readonly List<int> versions = [];
    private readonly HashSet<int> dirty = [];

    /// <summary>The terrain in the middle between two points, lower number first: most sides are looked at several times.</summary>
    private readonly Dictionary<(int, int), TerrainSample> middles = [];

    /// <summary>Points of a rim that no inner edge may join, once chords are lifted off it.</summary>
    private readonly HashSet<int> rim = [];

    /// <summary>Points of lines that facets keep to, and the sides of those.</summary>
    private readonly HashSet<int> kept = [];

    private readonly HashSet<(int, int)> keptSides = [];

    /// <summary>Which triangles were last seen within every tolerance, and have not changed.</summary>
    private readonly List<bool> isFine = [];

    private readonly PriorityQueue<(Inspection Inspection, int Version), (double Error, int Triangle)> queue =
        new(Comparer<(double Error, int Triangle)>.Create((a, b) => a.Error != b.Error ? b.Error.CompareTo(a.Error) : a.Triangle.CompareTo(b.Triangle)));

    private TerrainMesher(ITerrainField field, ITerrainField? ground, Lattice lattice, MeshingTolerance tolerance, ImmutableArray<ZonedRing> rings, bool keepAll)
    {
        this.field = field;
        this.ground = ground;
        this.lattice = lattice;
        this.tolerance = field.IsCurved ? tolerance with { Error_mm = BetweenSamples * tolerance.Error_mm } : tolerance;
        zoned = new(lattice, rings, keepAll ? 0 : tolerance.Apart(lattice), areNoded: keepAll);
        triangles = zoned.Triangles;
        for (var v = 0; v < triangles.PointCount; v++)
            heights.Add(zoned.TryHeight(v, out var h) ? h : lattice.Snap(field.At(zoned.Position(v)).Height));
        foreach (var (a, b) in zoned.KeptSides) Keep(a, b);
        while (versions.Count < triangles.TriangleCount) versions.Add(0);
    }

    /// <summary>Meshes the terrain.</summary>
    /// <param name="field">The terrain.</param>
    /// <param name="rings">Rim rings (bit <see cref="Domain"/>), pocket rings (bit <see cref="Pocket"/>) and breaklines, with known heights.</param>
    /// <param name="pockets">The pockets, to tell them apart.</param>
    /// <param name="lattice">The lattice of the result.</param>
    /// <param name="tolerance">Tolerances.</param>
    /// <param name="liftChords">Lift inner edges with both ends on the rim, so that another terrain on the same rim is touched nowhere else.</param>
    /// <param name="keepAll">The rings meet in corners only and stay as they are, as those must that another mesh has already.</param>
    /// <param name="ground">The other terrain, where it is not level.</param>
    /// <param name="isUpright">Which points of the rim have an upright wall below them, so that the other terrain is not met there; none when left out.</param>
    public static TerrainMesh Mesh(
        ITerrainField field, ImmutableArray<ZonedRing> rings, ImmutableArray<PlanRegion> pockets, Lattice lattice, MeshingTolerance tolerance, bool liftChords,
        bool keepAll = false, ITerrainField? ground = null, Func<Vec2, bool>? isUpright = null)
    {
        var mesher = new TerrainMesher(field, ground, lattice, tolerance, rings, keepAll);
        // A turned diagonal may show a crease that was hidden before.
        var changed = new SortedSet<int>(Enumerable.Range(0, mesher.triangles.TriangleCount));
        for (var round = 0; round < 4 && changed.Count > 0; round++)
        {
            changed.UnionWith(mesher.Refine(changed));
            changed = mesher.FlipWhereBetter(changed);
        }

        if (field.IsCurved) mesher.Balance();
        mesher.SplitKeptSidesBesidePoints();
        if (liftChords) mesher.LiftChordsOffTheRim(isUpright ?? (_ => false));
        mesher.MendSteepSlivers();
        mesher.TurnNeedles();
        if (liftChords) mesher.LiftOffGround();
        return mesher.Result(pockets);
    }

    /// <summary>Refines where these triangles are out of tolerance.</summary>
    /// <returns>The triangles that changed.</returns>
    private HashSet<int> Refine(IEnumerable<int> changed)
    {
        triangles.Changed = t => dirty.Add(t);
        var refined = new HashSet<int>();
        Note([.. changed.Where(t => zoned.Zone(t) == Domain)]);
        while (queue.TryPeek(out _, out var worst) && triangles.PointCount < tolerance.MaxPoints)
        {
            // What is nearly as bad as the worst is improved in the same round, as long as nothing done before it in the round has
            // changed it; then all that changed is inspected, on all processors.
            var touched = new SortedSet<int>();
            while (queue.TryPeek(out _, out var next) && next.Error >= worst.Error * Nearly)
            {
                var (inspection, version) = queue.Dequeue();
                if (versions[inspection.Triangle] != version || !Improve(inspection)) continue;
                foreach (var t in dirty)
                {
                    while (versions.Count <= t) versions.Add(0);
                    versions[t]++;
                    // Only the inside of the domain is ever touched, so whatever changed is inside.
                    zoned.SetZone(t, Domain);
                }

                touched.UnionWith(dirty);
                dirty.Clear();
            }

            Note([.. touched]);
            refined.UnionWith(touched);
        }

        return refined;
    }

    /// <summary>
    /// Diagonals that cut across a crease are turned: where both triangles get better by it. Delaunay triangles are not always the
    /// best ones for a height function (Rippa 1990).
    /// </summary>
    /// <param name="candidates">Triangles that changed since they were last looked at.</param>
    /// <returns>The triangles that changed.</returns>
    private SortedSet<int> FlipWhereBetter(SortedSet<int> candidates)
    {
        triangles.Changed = t => dirty.Add(t);
        var any = new SortedSet<int>();
        for (var round = 0; round < 8 && candidates.Count > 0; round++)
        {
            var turned = new SortedSet<int>();
            foreach (var t in candidates)
            {
                if (zoned.Zone(t) != Domain || isFine[t]) continue;
                var own = Error(t, double.PositiveInfinity);
                for (var h = 3 * t; own > 1 && h < (3 * t) + 3; h++)
                {
                    var g = triangles.Twin(h);
                    if (g < 0 || triangles.IsConstrained(h)) continue;
                    var better = Math.Max(own, Error(g / 3, double.PositiveInfinity)) - 1e-6;
                    if (!triangles.TryFlip(h)) continue;
                    isFine[t] = isFine[g / 3] = false;
                    var after = Error(t, better);
                    if (after < better && Error(g / 3, better) < better)
                    {
                        own = after;
                        turned.UnionWith([t, g / 3]);
                        continue;
                    }

                    triangles.UndoFlip(h);
                }
            }

            any.UnionWith(turned);
            // Only beside what was turned can anything be better than before.
            candidates = [.. turned.SelectMany(t => Enumerable.Range(3 * t, 3).Select(h => triangles.Twin(h) / 3).Append(t)).Where(t => t >= 0)];
        }

        foreach (var t in dirty) versions[t]++;
        dirty.Clear();
        return any;
    }

    /// <summary>Inspects triangles of the domain and queues those that are out of tolerance.</summary>
    private void Note(int[] candidates)
    {
        LookUpMiddles(candidates);
        var inspections = new Inspection[candidates.Length];
        if (candidates.Length > 16) Parallel.For(0, candidates.Length, i => inspections[i] = Inspect(candidates[i]));
        else for (var i = 0; i < candidates.Length; i++) inspections[i] = Inspect(candidates[i]);
        while (isFine.Count < triangles.TriangleCount) isFine.Add(false);
        foreach (var inspection in inspections)
        {
            var t = inspection.Triangle;
            isFine[t] = inspection.Error <= 1 && Altitude(t) > 16 * lattice.Step;
            if (inspection.Error > 1) queue.Enqueue((inspection, versions[t]), (inspection.Error, t));
        }
    }

    private readonly record struct Inspection(int Triangle, double Error, Vec2 Worst, ImmutableArray<int> Surfaces, bool OnlySteep);

    /// <summary>Compares a triangle with the terrain at a few points; an error above 1 is out of tolerance.</summary>
    private Inspection Inspect(int t)
    {
        var (a, b, c) = (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
        var plane = (Gradient: Gradient(t), Height: heights[triangles.Origin(3 * t)]);
        double worst = -1;
        var worstPoint = a;
        Span<int> seen = stackalloc int[Samples.Length + Corners.Length];
        var surfaces = 0;
        var limit = double.PositiveInfinity;
        for (var i = 0; i < Samples.Length; i++)
        {
            var s = Sampled(t, i, out var p);
            var error = Off(s, plane.Height + Vec2.Dot(plane.Gradient, p - a), plane.Gradient);
            if (error > worst) (worst, worstPoint) = (error, p);
            if (!seen[..surfaces].Contains(s.Surface)) seen[surfaces++] = s.Surface;
            if (i == 0) limit = field.SteepestFacet(s.Surface);
        }

        var score = worst;
        // Too little draft counts as an error as well, however small the facet. (A point more does not help a triangle hardly wider than
        // the lattice; those are turned or mended at the end.)
        if (plane.Gradient.LengthSquared > limit * limit && Altitude(a, b, c) > 16 * lattice.Step)
        {
            score = Math.Max(score, TooSteep(plane.Gradient, limit));
            // A surface that shows only in a corner of the triangle is the usual cause.
            foreach (var (u, v) in Corners)
            {
                var s = field.At(a + (u * (b - a)) + (v * (c - a)));
                if (!seen[..surfaces].Contains(s.Surface)) seen[surfaces++] = s.Surface;
            }
        }

        return new(t, score, worstPoint, score > 1 ? [.. seen[..surfaces]] : [], worst <= 1);
    }

    /// <summary>The error of a triangle, slivers too; or, where it is no less than <paramref name="enough"/>, some number that is not either.</summary>
    private double Error(int t, double enough)
    {
        var a = zoned.Corner(t, 0);
        var (gradient, height) = (Gradient(t), heights[triangles.Origin(3 * t)]);
        var worst = 0.0;
        for (var i = 0; i < Samples.Length && worst < enough; i++)
        {
            var s = Sampled(t, i, out var p);
            worst = Math.Max(worst, Off(s, height + Vec2.Dot(gradient, p - a), gradient));
            if (i == 0 && field.SteepestFacet(s.Surface) is var limit && gradient.LengthSquared > limit * limit) worst = Math.Max(worst, TooSteep(gradient, limit));
        }

        return worst;
    }

    /// <summary>The terrain at a sample of a triangle. Points do not move while triangles are compared with it.</summary>
    private TerrainSample Sampled(int t, int sample, out Vec2 p)
    {
        if (sample is >= 1 and <= 3)
        {
            var side = Side(t, sample);
            p = Middle(side);
            if (!middles.TryGetValue(side, out var known)) middles.Add(side, known = field.At(p));
            return known;
        }

        var (a, b, c) = (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
        var (along, across) = Samples[sample];
        p = a + (along * (b - a)) + (across * (c - a));
        return field.At(p);
    }

    /// <summary>What inspections, which run side by side, are to find.</summary>
    private void LookUpMiddles(int[] candidates)
    {
        var sides = new HashSet<(int, int)>();
        foreach (var t in candidates)
            for (var i = 1; i <= 3; i++)
                if (Side(t, i) is var side && !middles.ContainsKey(side)) sides.Add(side);
        var missing = sides.ToArray();
        var found = new TerrainSample[missing.Length];
        if (missing.Length > 16) Parallel.For(0, missing.Length, i => found[i] = field.At(Middle(missing[i])));
        else for (var i = 0; i < missing.Length; i++) found[i] = field.At(Middle(missing[i]));
        for (var i = 0; i < missing.Length; i++) middles.Add(missing[i], found[i]);
    }

    /// <summary>The points of the side in the middle of which a sample is, lower number first.</summary>
    private (int, int) Side(int t, int sample)
    {
        var (v, w) = (triangles.Origin((3 * t) + (sample == 3 ? 1 : 0)), triangles.Origin((3 * t) + (sample == 1 ? 1 : 2)));
        return v < w ? (v, w) : (w, v);
    }

    private Vec2 Middle((int V, int W) side) => 0.5 * (zoned.Position(side.V) + zoned.Position(side.W));

    /// <summary>How far a facet is off the terrain, in tolerances.</summary>
    private double Off(in TerrainSample terrain, double height, Vec2 gradient) =>
        Math.Abs(height - terrain.Height) / Math.Sqrt(1 + Math.Max(gradient.LengthSquared, terrain.Gradient.LengthSquared)) / field.Leeway(terrain.Surface) / tolerance.Error_mm;

    /// <summary>Too little draft as an error: more than any that is within tolerance.</summary>
    private static double TooSteep(Vec2 gradient, double limit) => 1 + (gradient.Length / limit);

    private bool Improve(Inspection inspection)
    {
        var t = inspection.Triangle;
        if (inspection.Surfaces.Length >= 3 && InsertCorner(t, inspection.Surfaces)) return true;
        if (inspection.Surfaces.Length >= 2 && InsertCrease(t, inspection.Surfaces)) return true;
        // In a narrow facet a point that belongs to no crease makes narrower ones.
        if (inspection.OnlySteep && Altitude(t) < tolerance.Error_mm / 2) return false;
        return InsertInside(t, inspection.Worst) || InsertInside(t, Centroid(t));
    }

    /// <summary>The point where three of the surfaces meet, when it lies in the triangle and on the terrain.</summary>
    private bool InsertCorner(int t, ImmutableArray<int> surfaces)
    {
        for (var i = 0; i < surfaces.Length; i++)
            for (var j = i + 1; j < surfaces.Length; j++)
                for (var k = j + 1; k < surfaces.Length; k++)
                    if (TryMeet(surfaces[i], surfaces[j], surfaces[k], Centroid(t), out var p) && Contains(t, p) && IsOnTerrain(surfaces[i], p) && InsertInside(t, p))
                        return true;
        return false;
    }

    /// <summary>Newton's method on f_i = f_j = f_k.</summary>
    private bool TryMeet(int i, int j, int k, Vec2 start, out Vec2 p)
    {
        p = start;
        for (var round = 0; round < 20; round++)
        {
            var fi = field.Extended(i, p, out var gi);
            var fj = field.Extended(j, p, out var gj);
            var fk = field.Extended(k, p, out var gk);
            var (u, v) = (gj - gi, gk - gi);
            var det = Vec2.Cross(u, v);
            if (Math.Abs(det) <= 1e-9 * u.Length * v.Length) return false;
            var (r, s) = (fi - fj, fi - fk);
            var step = new Vec2(((r * v.Y) - (s * u.Y)) / det, ((u.X * s) - (v.X * r)) / det);
            p += step;
            if (!p.IsFinite) return false;
            if (step.Length < lattice.Step / 16) return true;
        }

        return false;
    }

    /// <summary>
    /// The points where the crease of two surfaces crosses the sides of the triangle. Two such points are neighbours, so the Delaunay
    /// property makes the crease between them an edge.
    /// </summary>
    private bool InsertCrease(int t, ImmutableArray<int> surfaces)
    {
        for (var i = 0; i < surfaces.Length; i++)
        {
            for (var j = i + 1; j < surfaces.Length; j++)
            {
                var ends = CreaseEnds(t, surfaces[i], surfaces[j]);
                if (ends.Count == 0) continue;
                var before = triangles.PointCount;
                foreach (var (p, from, to) in ends) InsertOnEdge(from, to, p);
                if (triangles.PointCount > before) return true;
            }
        }

        return false;
    }

    /// <summary>Where f_i = f_j on the sides of a triangle, and between which points.</summary>
    private List<(Vec2 P, int From, int To)> CreaseEnds(int t, int i, int j)
    {
        var found = new List<(Vec2 P, int From, int To)>();
        Span<double> difference = stackalloc double[3];
        for (var c = 0; c < 3; c++)
        {
            var p = zoned.Corner(t, c);
            difference[c] = field.Extended(i, p, out var gi) - field.Extended(j, p, out var gj);
            // A corner counts as on the crease when it is off it by no more than the rounding to the lattice, or where both surfaces are the
            // same for all that matters: those of a wall and of an arc that end on one side of the rim cross wherever rounding has it.
            if (Math.Abs(difference[c]) <= Math.Max(8 * lattice.Step * (gi - gj).Length, Same * tolerance.Error_mm * Math.Sqrt(1 + Math.Min(gi.LengthSquared, gj.LengthSquared)))) difference[c] = 0;
        }

        for (var c = 0; c < 3; c++)
        {
            var (d0, d1) = (difference[c], difference[(c + 1) % 3]);
            if (d0 * d1 >= 0) continue;
            var (a, b) = (zoned.Corner(t, c), zoned.Corner(t, (c + 1) % 3));
            double low = 0, high = 1;
            for (var round = 0; round < 60 && (high - low) * (b - a).Length > lattice.Step / 16; round++)
            {
                var middle = (low + high) / 2;
                var p = a + (middle * (b - a));
                var d = field.Extended(i, p, out _) - field.Extended(j, p, out _);
                if (d * d0 > 0) low = middle;
                else high = middle;
            }

            var crossing = a + ((low + high) / 2 * (b - a));
            if (IsOnTerrain(i, crossing))
                found.Add((crossing, triangles.Origin((3 * t) + c), triangles.Origin((3 * t) + ((c + 1) % 3))));
        }

        return found;
    }

    private bool IsOnTerrain(int surface, Vec2 p)
    {
        var here = field.At(p);
        var f = field.Extended(surface, p, out var g);
        return Math.Abs(here.Height - f) <= 4 * lattice.Step * (1 + g.Length + here.Gradient.Length);
    }

    private int InsertOnEdge(int from, int to, Vec2 p)
    {
        var h = triangles.Find(from, to);
        if (h < 0 || zoned.Crossing(h) != 0) return -1;
        var snapped = lattice.Snap(p);
        var (left, right) = (triangles.Origin(PlanTriangulation.Previous(h)), triangles.Origin(PlanTriangulation.Previous(triangles.Twin(h))));
        if (IsCrowded(snapped, zoned.Position(from), zoned.Position(to), zoned.Position(left), zoned.Position(right)) || !IsClearOfRim(h / 3, snapped) || !IsClearOfRim(triangles.Twin(h) / 3, snapped)) return -1;
        var q = new LatticePoint(lattice.Index(p.X), lattice.Index(p.Y));
        var isKept = IsKept(h);
        var v = triangles.IsConstrained(h) ? triangles.InsertOn(h, q) : triangles.Insert(q);
        if (v != heights.Count) return v;
        heights.Add(lattice.Snap(field.At(snapped).Height));
        if (isKept)
        {
            Keep(from, v);
            Keep(v, to);
        }

        return v;
    }

    private void Keep(int a, int b)
    {
        kept.UnionWith([a, b]);
        keptSides.Add(a < b ? (a, b) : (b, a));
    }

    private bool IsKept(int h)
    {
        var (a, b) = (triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)));
        return keptSides.Contains(a < b ? (a, b) : (b, a));
    }

    private bool InsertInside(int t, Vec2 p)
    {
        // A point on a side that must stay whole is drawn a little inward.
        var snapped = lattice.Snap(p);
        var (a, b, c) = (zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2));
        if (IsCrowded(snapped, a, b, c) || !IsClearOfRim(t, snapped)) return false;
        for (var i = 0; i < 3; i++)
        {
            var h = (3 * t) + i;
            var (from, to) = (zoned.Corner(t, i), zoned.Corner(t, (i + 1) % 3));
            var distance = Vec2.Cross(to - from, snapped - from) / (to - from).Length;
            if (distance >= (triangles.IsConstrained(h) ? 32 : 4) * lattice.Step) continue;
            return InsertOnEdge(triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)), p) >= 0;
        }

        var v = triangles.Insert(new(lattice.Index(p.X), lattice.Index(p.Y)));
        if (v < heights.Count) return false;
        heights.Add(lattice.Snap(field.At(snapped).Height));
        return true;
    }

    /// <summary>
    /// The rim is a polygon within tolerance of the true contour. A point between the two would raise a facet on the rim that is
    /// steeper than the terrain.
    /// </summary>
    private bool IsClearOfRim(int t, Vec2 p)
    {
        for (var i = 0; i < 3; i++)
        {
            var h = (3 * t) + i;
            if (zoned.Crossing(h) == 0) continue;
            var (a, b) = (zoned.Corner(t, i), zoned.Corner(t, (i + 1) % 3));
            var distance = Vec2.Cross(b - a, p - a) / (b - a).Length;
            if (distance < 4 * lattice.Step) return false;
            var s = field.At(p);
            var limit = field.SteepestFacet(s.Surface);
            if (Gradient(a, b, p, heights[triangles.Origin(h)], heights[triangles.Origin(PlanTriangulation.Next(h))], s.Height).LengthSquared > limit * limit) return false;
        }

        return true;
    }

    private bool IsCrowded(Vec2 p, params ReadOnlySpan<Vec2> others)
    {
        foreach (var q in others)
            if (Vec2.Distance(p, q) < tolerance.Spacing_mm)
                return true;
        return false;
    }

    /// <summary>
    /// An inner edge with both ends on the rim would lie in the joint and touch the other terrain: it is split and its middle
    /// lifted, by a lattice step at least.
    /// </summary>
    private void LiftChordsOffTheRim(Func<Vec2, bool> isUpright)
    {
        triangles.Changed = t => dirty.Add(t);
        for (var h = 0; h < 3 * triangles.TriangleCount; h++)
        {
            if ((zoned.Zone(h / 3) & Domain) == 0 || (zoned.Crossing(h) & Domain) == 0) continue;
            rim.Add(triangles.Origin(h));
            rim.Add(triangles.Origin(PlanTriangulation.Next(h)));
        }

        rim.RemoveWhere(v => isUpright(zoned.Position(v)));
        for (var h = 0; h < 3 * triangles.TriangleCount; h++)
        {
            if (zoned.Zone(h / 3) != Domain || (zoned.Crossing(h) & Domain) != 0) continue;
            var (a, b) = (triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h)));
            if (!rim.Contains(a) || !rim.Contains(b)) continue;
            // An ear of the rim is best cut off by turning its diagonal.
            var (c, d) = (triangles.Origin(PlanTriangulation.Previous(h)), triangles.Origin(PlanTriangulation.Previous(triangles.Twin(h))));
            // Over ground that is not level rounding leaves no other way, even where the diagonal is a breakline.
            if (ground is not null && (!rim.Contains(c) || !rim.Contains(d)) && !IsKept(h)) triangles.Release(h);
            if ((!rim.Contains(c) || !rim.Contains(d)) && triangles.TryFlip(h))
            {
                dirty.Clear();
                continue;
            }

            // Where the rim is all but straight between its ends, the middle is rounded onto it; then a little beside, on the wider side.
            var middle = lattice.Snap(0.5 * (zoned.Position(a) + zoned.Position(b)));
            var v = triangles.SplitWithoutFlips(h, new(lattice.Index(middle.X), lattice.Index(middle.Y)));
            var inward = (zoned.Position(b) - zoned.Position(a)).Normalized().Left;
            for (var away = 4; v < 0 && Math.Abs(away) <= 64; away = away > 0 ? -away : -4 * away)
            {
                middle = lattice.Snap((0.5 * (zoned.Position(a) + zoned.Position(b))) + (away * lattice.Step * inward));
                v = triangles.SplitWithoutFlips(h, new(lattice.Index(middle.X), lattice.Index(middle.Y)));
            }

            if (v < 0) continue;
            heights.Add(Math.Max(lattice.Snap(field.At(middle).Height), ground is null ? Math.Max(heights[a], heights[b]) + lattice.Step : LeastOver(middle)));
            foreach (var t in dirty) zoned.SetZone(t, Domain);
            dirty.Clear();
        }

        // So is an inner point that rounding left at the height of the rim, the foot of a crease.
        LiftOffGround();
        if (rim.Count == 0 || ground is not null) return;
        var lowest = rim.Min(v => heights[v]);
        for (var v = 0; v < heights.Count; v++)
            if (!rim.Contains(v) && heights[v] <= lowest) heights[v] = lowest + lattice.Step;
    }

    /// <summary>Where the other terrain is not level, no inner point is left on it or under it.</summary>
    private void LiftOffGround()
    {
        if (ground is null) return;
        for (var v = 0; v < heights.Count; v++)
            if (!rim.Contains(v)) heights[v] = Math.Max(heights[v], LeastOver(zoned.Position(v)));
    }

    /// <summary>Off the ground by more than it is moved where points of its lines become one with others.</summary>
    private double LeastOver(Vec2 p) => lattice.Snap(ground!.At(p).Height) + (2 * lattice.Step);

    private Vec2 Gradient(int t) => Gradient(
        zoned.Corner(t, 0), zoned.Corner(t, 1), zoned.Corner(t, 2),
        heights[triangles.Origin(3 * t)], heights[triangles.Origin((3 * t) + 1)], heights[triangles.Origin((3 * t) + 2)]);

    private static Vec2 Gradient(Vec2 a, Vec2 b, Vec2 c, double za, double zb, double zc)
    {
        var (u, v) = (b - a, c - a);
        var det = Vec2.Cross(u, v);
        var (r, s) = (zb - za, zc - za);
        return new(((r * v.Y) - (s * u.Y)) / det, ((u.X * s) - (v.X * r)) / det);
    }

    private static double Altitude(Vec2 a, Vec2 b, Vec2 c) =>
        Vec2.Cross(b - a, c - a) / Math.Max((b - a).Length, Math.Max((c - b).Length, (a - c).Length));

    private Vec2 Centroid(int t) => (zoned.Corner(t, 0) + zoned.Corner(t, 1) + zoned.Corner(t, 2)) / 3;

    private bool Contains(int t, Vec2 p)
    {
        for (var i = 0; i < 3; i++)
        {
            var (a, b) = (zoned.Corner(t, i), zoned.Corner(t, (i + 1) % 3));
            if (Vec2.Cross(b - a, p - a) <= 0) return false;
        }

        return true;
    }

    private TerrainMesh Result(ImmutableArray<PlanRegion> pockets)
    {
        var facets = ImmutableArray.CreateBuilder<PlanFacet>();
        var rim = ImmutableArray.CreateBuilder<(int, int)>();
        for (var t = 0; t < triangles.TriangleCount; t++)
        {
            var zone = zoned.Zone(t);
            if ((zone & Domain) == 0) continue;
            var pocket = -1;
            if ((zone & Pocket) != 0)
            {
                var centre = Centroid(t);
                pocket = Enumerable.Range(0, pockets.Length).First(i => pockets[i].Contains(centre));
            }

            facets.Add(new(triangles.Origin(3 * t), triangles.Origin((3 * t) + 1), triangles.Origin((3 * t) + 2), pocket));
            for (var h = 3 * t; h < (3 * t) + 3; h++)
                if ((zoned.Crossing(h) & Domain) != 0)
                    rim.Add((triangles.Origin(h), triangles.Origin(PlanTriangulation.Next(h))));
        }

        return new(
            [.. Enumerable.Range(0, triangles.PointCount).Select(zoned.Position)], [.. heights], facets.ToImmutable(), rim.ToImmutable());
    }
}
