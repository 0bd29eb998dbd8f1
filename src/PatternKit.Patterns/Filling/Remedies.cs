using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Grids;
using PatternKit.Geometry.Numerics;
using static System.FormattableString;

namespace PatternKit.Patterns.Filling;

/// <summary>
/// What would clear a place: each change is solved for with the reckoning that found the place, and told only where with it no ratio of the place is above the limit of doubt.
/// </summary>
/// <param name="Grid">The cavity.</param>
/// <param name="Run">The stream as it is poured.</param>
/// <param name="Mould">Metal and sand.</param>
/// <param name="Hottest_C">Hottest metal that the range allows.</param>
/// <param name="Entries">Cells that the metal enters by, each with its part.</param>
/// <param name="Reckoning">Of the gating.</param>
/// <param name="Alloy">The metal.</param>
/// <param name="Gating">Rules of gating.</param>
/// <param name="Cell_mm3">Metal of a whole cell.</param>
/// <param name="Gate_mm">Height of the ingates.</param>
/// <param name="Feeders">What feeders hold, by heights.</param>
/// <param name="ToJob">From pattern to job coordinates.</param>
/// <param name="Scale">Pattern over casting.</param>
/// <param name="Others">The mould poured with other metals of the family, the nearest first.</param>
/// <param name="Through">The stream of the job's metal through another gating.</param>
internal sealed record Remedies(
    CastingGrid Grid, StreamRun Run, StreamHeat Mould, double Hottest_C, ImmutableArray<(int Cell, double Share)> Entries, GatingReckoning Reckoning, Alloy Alloy, GatingTables Gating,
    double Cell_mm3, double Gate_mm, ImmutableArray<CavitySlice> Feeders, Func<Vec3, Vec3> ToJob, double Scale, IEnumerable<OtherMetal> Others, Func<GatingReckoning, StreamRun> Through)
{
    private const int Halvings = 8;

    // Remedies are rounded to the safe side in steps of these.
    private const double Step_C = 5;
    private const double Step_mm = 0.1;

    // A wall more than this many times as thick is another part; a head more than this many times as high another mould.
    private const double Thickest = 3;
    private const double Highest = 3;

    // Cells whose thickness is within this of the worst one's are of its wall.
    private const double SameWall = 1.5;

    // Below the limit by a twentieth: a changed part falls on its cells in another way.
    private double Limit => 0.95 * Mould.Table.Risk.Doubtful;

    /// <summary>All that clear a region.</summary>
    public IEnumerable<FillRemedy> Of(RiskRegion found)
    {
        var region = Whole(found);
        if (Temperature(region) is { } hotter) yield return hotter;
        if (Faster(region) is { } faster) yield return faster;
        if (Head(region) is { } head) yield return head;
        if (Gate(region) is { } gate) yield return gate;
        if (Wall(region) is { } wall) yield return wall;
        if (!HottestClears(region) && Metal(region) is { } metal) yield return metal;
    }

    /// <summary>Whether the hottest metal clears a region.</summary>
    public bool HottestClears(RiskRegion region) => Clears(Whole(region), Mould with { Pouring_C = Math.Max(Hottest_C, Mould.Pouring_C) });

    // In a way that freezes too soon the metal may take to other cells of it once it is poured otherwise: the whole way has to be clear.
    private RiskRegion Whole(RiskRegion region) => region.Ratios.Kind == FillRisk.Choked ? region with { Cells = [.. region.Cells.Union(WallAbout(region.Worst))] } : region;

    private bool Clears(RiskRegion region, StreamHeat mould, StreamRun? run = null) => region.Cells.All(c => (run ?? Run).Ratios(c, mould).Worst <= Limit);

    // Faster metal runs with a steeper front: the order of filling is another.
    private StreamRun Poured(GatingInput input) => Through(GatingRules.Reckon(input, Alloy, Gating));

    private StreamRun Again(RisingFlood flood, GatingReckoning reckoning, ThickerWall? thicker = null) => StreamRun.Of(flood, Grid.Walls, reckoning, Gate_mm, Cell_mm3, Feeders, Mould.Table, thicker);

    private FillRemedy? Temperature(RiskRegion region)
    {
        if (Hottest_C <= Mould.Pouring_C || !HottestClears(region)) return null;
        var (low, high) = (Mould.Pouring_C, Hottest_C);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            if (Clears(region, Mould with { Pouring_C = middle })) high = middle;
            else low = middle;
        }

        var told = Math.Min(Math.Ceiling(high / Step_C) * Step_C, Hottest_C);
        return new("pour_temperature_C", told, null, Invariant($"poured at {told:0} °C ([gating] pour_temperature = {told:0})"));
    }

    /// <summary>A shorter pour, as far as one person can pour it.</summary>
    private FillRemedy? Faster(RiskRegion region)
    {
        var shortest = Reckoning.Fills_kg / Reckoning.HandRate_kg_s.Value * Math.Sqrt(Reckoning.CastingHead_mm / Reckoning.EffectiveHead_mm.Value);
        bool Enough(double time_s) => Clears(region, Mould, Poured(Reckoning.Input with { PourTime_s = time_s }));
        if (!(shortest < Reckoning.FillTime_s) || !Enough(shortest)) return null;
        var (low, high) = (shortest, Reckoning.FillTime_s);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            if (Enough(middle)) low = middle;
            else high = middle;
        }

        var told = Math.Floor(low * 20) / 20;
        if (told < shortest) told = low;
        return new("pour_time_s", told, null, Invariant($"filled in {told:0.##} s instead of {Reckoning.FillTime_s:0.0#} s ([gating] time = {told:0.##})"));
    }

    /// <summary>A higher basin, where narrow places lack head; the choke is reckoned anew for it.</summary>
    private FillRemedy? Head(RiskRegion region)
    {
        if (region.Ratios.Head <= Limit) return null;
        var own = Reckoning.Head_mm.Value;
        bool Enough(double head_mm) => Clears(region, Mould, Poured(Reckoning.Input with { Head_mm = head_mm }));
        if (!Enough(Highest * own)) return null;
        var (low, high) = (own, Highest * own);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            if (Enough(middle)) high = middle;
            else low = middle;
        }

        var told = Math.Ceiling(high);
        return new("head_mm", told, null, Invariant($"a head of {told:0} mm instead of {own:0.#} mm ([gating] head = \"{told:0} mm\")"));
    }

    /// <summary>One more ingate at the worst cell.</summary>
    private FillRemedy? Gate(RiskRegion region)
    {
        // It takes as much as each of the others on the average.
        var part = 1.0 / (Entries.Length + 1);
        if (!Clears(region, Mould, Again(RisingFlood.Of(Grid.Grid, [.. Entries.Select(e => (e.Cell, e.Share * (1 - part))), (region.Worst, part)], Run.Flood.Up, Run.Flood.Front), Reckoning))) return null;
        var at = ToJob(Grid.Grid.Middle(region.Worst));
        return new("ingate", double.NaN, at, Invariant($"one more ingate near ({at.X:0.#}, {at.Y:0.#}) mm"));
    }

    /// <summary>Another metal of the family, poured as its own range says; sought where no temperature of the own one does.</summary>
    private FillRemedy? Metal(RiskRegion region)
    {
        if (Others.FirstOrDefault(o => Clears(region, o.Mould, o.Run)) is not { } other) return null;
        var pour_C = other.Mould.Pouring_C;
        return new("alloy", pour_C, null, Invariant($"{other.Alloy.Title} (alloy = \"{other.Alloy.Key}\"), poured at {pour_C:0} °C, with a pattern of its own contraction, where the part may be of it")) { Alloy = other.Alloy.Key };
    }

    /// <summary>The wall made thicker: it then takes more metal, too, and the stream in it is the slower for it.</summary>
    private FillRemedy? Wall(RiskRegion region)
    {
        var thin = Grid.Walls.At_mm(region.Worst);
        var isIn = new bool[Grid.Grid.Count];
        foreach (var cell in WallAbout(region.Worst)) isIn[cell] = true;
        bool Enough(double factor) => Clears(region, Mould, Again(Run.Flood, Reckoning, new(isIn, factor)));
        if (!Enough(Thickest)) return null;
        var (low, high) = (1.0, Thickest);
        for (var i = 0; i < Halvings; i++)
        {
            var middle = (low + high) / 2;
            if (Enough(middle)) high = middle;
            else low = middle;
        }

        var told = Math.Ceiling(high * thin / Scale / Step_mm) * Step_mm;
        return new("wall_mm", told, null, Invariant($"a wall of {told:0.0} mm there instead of {thin / Scale:0.0} mm"));
    }

    /// <summary>The wall about a cell, as it hangs together.</summary>
    private List<int> WallAbout(int cell)
    {
        var thin = Grid.Walls.At_mm(cell);
        var seen = new HashSet<int> { cell };
        List<int> cells = [cell];
        for (var i = 0; i < cells.Count; i++)
        {
            for (var axis = 0; axis < 3; axis++)
            {
                foreach (var next in new[] { cells[i] - Grid.Grid.Stride(axis), cells[i] + Grid.Grid.Stride(axis) })
                    if (Grid.Grid.IsSolid(next) && Grid.Walls.At_mm(next) <= SameWall * thin && seen.Add(next)) cells.Add(next);
            }
        }

        return cells;
    }
}
