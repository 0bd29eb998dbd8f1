using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using static System.FormattableString;

namespace PatternKit.Patterns.Checks;

/// <summary>
/// Sand that is too deep for its width and breaks when the pattern is drawn: in holes and recesses, and in tongues between walls.
/// It breaks where it leaves the body of sand, so the width is that at the top of the lower wall beside it, and the depth goes from there to
/// where the sand ends. Tapered sand is judged at every level of the terrain, since its upper part may hold and the whole not.
/// </summary>
internal static class FragileSand
{
    /// <summary>How far below a level the walls that end there are cut, and how far above a floor its extent is taken, mm.</summary>
    private const double Beside = 0.01;

    /// <summary>A terrain with slopes, whose widths change between its levels, is cut at least at every so many-th part of its height.</summary>
    private const int Coarsest = 6;

    /// <summary>And levels of it closer than this part of its height are taken once.</summary>
    private const int Finest = 16;

    /// <summary>The fragile sand of both halves.</summary>
    public static IEnumerable<Finding> Of(HalfMould cope, HalfMould drag, Sand sand, DrawTable table, PatternFrame frame) =>
        Of(cope, MouldHalf.Cope, sand, table, frame).Concat(Of(drag, MouldHalf.Drag, sand, table, frame));

    private static IEnumerable<Finding> Of(HalfMould mould, MouldHalf half, Sand sand, DrawTable table, PatternFrame frame)
    {
        if (mould.IsEmpty) yield break;
        var closed = mould.ClosedHoles().ToList();
        foreach (var hole in closed) yield return Closed(hole, mould, frame);

        var up = half == MouldHalf.Cope ? 1 : -1;
        foreach (var tongue in Tongues(mould.Upper, mould.Joint_mm, Limit(half).Value, table.LeastDepth_mm.Value))
            if (!closed.Exists(c => c.Contains(tongue.Place.At))) yield return Told(tongue, half, up);
        if (mould.Under is null) yield break;
        // Into a recess of this half reaches the sand of the other.
        var other = half == MouldHalf.Cope ? MouldHalf.Drag : MouldHalf.Cope;
        foreach (var tongue in Tongues(mould.Under, mould.Under.GroundHeight, Limit(other).Value, table.LeastDepth_mm.Value)) yield return Told(tongue, other, -up);

        Quoted Limit(MouldHalf sandOf) => sandOf == MouldHalf.Cope ? sand.HangingLimit : sand.StandingLimit;

        Finding Told(Tongue tongue, MouldHalf sandOf, int sign)
        {
            var limit = Limit(sandOf);
            var at = frame.ToJob(new(tongue.Place.At.X, tongue.Place.At.Y, sign * (tongue.Top - (tongue.Depth / 2))));
            var (way, where) = sandOf == MouldHalf.Cope ? ("hangs", "hanging in the cope") : ("stands", "standing in the drag");
            var turn = sandOf == MouldHalf.Cope ? "lay the part so that this sand stands in the drag, " : "";
            return new(
                tongue.Place.IsEnclosed ? "deep-hole" : "sand-tongue", Severity.Warn,
                Invariant($"The sand in a {(tongue.Place.IsEnclosed ? "hole or recess" : "gap between walls")} near ({at.X:0.#}, {at.Y:0.#}, {at.Z:0.#}) mm {way} {tongue.Depth:0.#} mm deep and is {tongue.Place.Width:0.#} mm wide, {tongue.Ratio:0.##} times its width: it may break at the draw. For {sand.Title.ToLowerInvariant()} {limit.Value:0.##} times the width is the usual limit, {where}."),
                at, tongue.Depth, limit.Value * tongue.Place.Width, limit.From.Text,
                tongue.Place.IsEnclosed
                    ? $"Drill or mill it (cut = \"machined\"), core it, {turn}or give it more draft and room."
                    : $"Widen the gap or fill it and machine it later, lower a wall beside it, {turn}or take a stronger sand.",
                "mm");
        }
    }

    private static Finding Closed(PlanRegion hole, HalfMould mould, PatternFrame frame)
    {
        var p = hole.InnerPoint;
        var at = frame.ToJob(new(p.X, p.Y, Math.Abs(mould.Joint_mm)));
        var floor = mould.Upper.At(p).Height - mould.Joint_mm;
        return new(
            "deep-hole", Severity.Warn,
            Invariant($"The hole near ({at.X:0.#}, {at.Y:0.#}) mm closes under its draft {floor:0.#} mm before it reaches the joint: a dimple is left in the casting."),
            at, floor, 0, "a hole narrows by twice its depth times tan(draft)",
            "Drill it (cut = \"machined\"), core it, or give less draft inside.", "mm");
    }

    private static List<Tongue> Tongues(DraftedTerrain terrain, double ground, double limit, double leastDepth)
    {
        var levels = terrain.Levels.Where(z => z <= terrain.Cap).Append(ground).Append(double.IsFinite(terrain.Cap) ? terrain.Cap : ground)
            .Where(z => z >= ground).Distinct().Order().ToList();
        if (terrain.HasSlopes) levels = Spaced(levels);

        var found = new List<Tongue>[levels.Count];
        Parallel.For(0, levels.Count, i => found[i] = [.. Below(terrain, levels[i], levels, limit, leastDepth)]);

        // One finding a place: of those that overlap, over however many levels, the worst.
        var places = new List<(Tongue Worst, List<NetTopologySuite.Geometries.Geometry> Extent)>();
        foreach (var tongue in found.SelectMany(f => f).OrderByDescending(t => t.Ratio).ThenByDescending(t => t.Depth))
        {
            var region = tongue.Place.Region.Geometry;
            var touching = places.Where(p => p.Extent.Exists(e => e.Intersects(region))).ToList();
            if (touching.Count == 0) places.Add((tongue, [region]));
            else touching[0].Extent.Add(region);
            foreach (var other in touching.Skip(1))
            {
                touching[0].Extent.AddRange(other.Extent);
                places.Remove(other);
            }
        }

        return [.. places.Select(p => p.Worst)];
    }

    private static List<double> Spaced(List<double> levels)
    {
        var height = levels[^1] - levels[0];
        var spaced = new List<double> { levels[0] };
        foreach (var level in levels.Skip(1).Where(z => z == levels[^1] || levels[^1] - z > height / Finest))
        {
            var gap = level - spaced[^1];
            if (level < levels[^1] && gap < height / Finest) continue;
            var parts = (int)Math.Ceiling(gap / (height / Coarsest));
            for (var i = 1; i < parts; i++) spaced.Add(level - (gap * (parts - i) / parts));
            spaced.Add(level);
        }

        return spaced;
    }

    /// <summary>Sand that begins between walls of one height and goes down to each of the floors below.</summary>
    private static IEnumerable<Tongue> Below(DraftedTerrain terrain, double top, List<double> floors, double limit, double leastDepth)
    {
        var below = floors.TakeWhile(f => top - f >= leastDepth).ToList();
        if (below.Count == 0) yield break;
        // At a height where nothing ends, the section is that of a floor there.
        var walls = terrain.Levels.Contains(top) ? terrain.JustBelow(top, Beside) : terrain.Above(top);
        foreach (var floor in below)
        {
            var places = NarrowPlaces.Between(walls, (top - floor) / limit).ToList();
            // Higher floors ask for less width.
            if (places.Count == 0) yield break;
            var higher = terrain.Above(floor);
            foreach (var place in places)
            {
                var depth = place.Region.Difference(higher).WithoutSlivers(Beside).IsEmpty ? top - terrain.At(place.At).Height : top - floor;
                if (depth >= leastDepth && depth > limit * place.Width) yield return new(place, top, depth);
            }
        }
    }

    private sealed record Tongue(NarrowPlace Place, double Top, double Depth)
    {
        public double Ratio => Depth / Place.Width;
    }
}
