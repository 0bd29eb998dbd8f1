using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Impressions;

/// <summary>One casting of a part made by itself, to know where it parts, what it weighs and what room it takes.</summary>
/// <param name="Part">The part.</param>
/// <param name="Kit">Its kit, without gating.</param>
internal sealed record PartAlone(MouldPart Part, Kit Kit)
{
    // Heights of a kit are told to a tenth of a micrometre; faces of a part stand at them exactly.
    private const double Told_mm = 2e-4;

    // Outlines that differ by less are one.
    private const double SameOutline_mm = 1;

    // Feeders make choke and runner wider, and are not known yet.
    private const double ForFeeders = 1.15;

    /// <summary>Makes it.</summary>
    public static PartAlone Of(MouldPart part, FoundryTables tables) => new(part, KitBuilder.Build(part.Alone, tables with { Growth = null }));

    /// <summary>Height of its joint: that of the face or axis that it lies in, so that faces of different parts that lie in one joint are at one height to the last bit.</summary>
    public double Joint_mm
    {
        get
        {
            var told = Part.Job.Parting.At_mm ?? Kit.Parting.Height_mm;
            var heights = Part.Job.Features.SelectMany(f =>
            {
                var cast = CastFeature.Of(f, Part.Allowances.Stock.Value);
                return new[] { f.Low_mm, f.High_mm, f.Low_mm - cast.EndsBottom_mm, f.High_mm + cast.EndsTop_mm, f.Turned?.At_mm.Z ?? f.Low_mm };
            }).ToArray();
            var nearest = heights.MinBy(h => Math.Abs(h - told));
            return Math.Abs(nearest - told) <= Told_mm ? nearest : told;
        }
    }

    /// <summary>The halves of the mould in which it can be gated: those whose outline at the joint is the outer one.</summary>
    private MouldHalf[] Outer
    {
        get
        {
            var all = Kit.Plan.CopeOutline.Union(Kit.Plan.DragOutline).Geometry.EnvelopeInternal;
            return [.. new[] { (Half: MouldHalf.Cope, Kit.Plan.CopeOutline), (Half: MouldHalf.Drag, Kit.Plan.DragOutline) }
                .Where(h => !h.Item2.IsEmpty && h.Item2.Geometry.EnvelopeInternal is var own && own.Width > all.Width - (2 * SameOutline_mm) && own.Height > all.Height - (2 * SameOutline_mm))
                .Select(h => h.Half)];
        }
    }

    /// <summary>
    /// The same parted so that one runner can gate it with another part: where its joint may be at several heights for the same metal, and the rule took one at which none of the halves
    /// that the other is gated in has its outline, at the other end of these heights. Itself where that is not so.
    /// </summary>
    /// <param name="first">The other part.</param>
    /// <param name="tables">Rules.</param>
    public PartAlone GatedWith(PartAlone first, FoundryTables tables)
    {
        var (own, wanted) = (Outer, first.Outer);
        if (Part.Job.Parting.At_mm is not null || own.Intersect(wanted).Any() || wanted.Length == 0 || Kit.Parting.High_mm - Kit.Parting.Low_mm < SameOutline_mm) return this;
        var at = wanted[0] == MouldHalf.Cope ? Kit.Parting.Low_mm : Kit.Parting.High_mm;
        var moved = Of(Part with { Job = Part.Job with { Parting = Part.Job.Parting with { At_mm = at } } }, tables);
        return moved with { JointReason = FormattableString.Invariant($"at z {at:0.###} mm, for the same metal, so that it is gated in the same half of the mould as {first.Part.Job.Name}") };
    }

    /// <summary>Why its joint is where it is.</summary>
    public string JointReason { get; private init; } = Kit.Parting.Reason;

    /// <summary>What it takes of the plan, patterns with draft, prints and loose pieces, job millimetres.</summary>
    public CastingRoom Room
    {
        get
        {
            var box = Kit.Bodies.Concat(Kit.Loose.Select(l => l.Metal)).Select(b => b.InMould.Bounds()).Aggregate(Box3.Empty, (all, b) => all.With(b.Low).With(b.High));
            bool Lies(TurnedAxis axis) => Part.Job.Features.Any(f => f.Cut == CutKind.Cored && f.Turned?.Axis == axis);
            return new(1 / Kit.Scale * box.Low.Plan, 1 / Kit.Scale * box.High.Plan, Lies(TurnedAxis.X), Lies(TurnedAxis.Y));
        }
    }

    /// <summary>What the runner of several castings takes, job millimetres, as near as it is known before they are laid.</summary>
    /// <param name="castings">Each as its part alone.</param>
    /// <param name="job">What it says of gating.</param>
    /// <param name="allowances">Of the mould.</param>
    /// <param name="tables">Rules.</param>
    public static RunnerRoom Runner(ImmutableArray<PartAlone> castings, Job job, Allowances allowances, FoundryTables tables)
    {
        var (alloy, _) = KitBuilder.Materials(job, tables);
        var asked = job.Gating ?? new();
        var kg = castings.Sum(c => c.Kit.Metal.Casting_kg);
        var clearance = GatingRules.RunnerClearance_mm(kg, tables.Gating).Value;
        if (!asked.Wanted || kg <= 0) return new(0, 0);
        var (low, high) = (castings.Max(c => c.Below_mm), castings.Max(c => c.Above_mm));
        var wall = castings.Sum(c => c.Volume_mm3) * 2 / castings.Sum(c => c.Surface_mm2);
        var (inCope, inDrag) = (Room(true), Room(false));
        double Larger(Func<RunnerRoom, double> of) => Math.Max(of(inCope), of(inDrag)) / allowances.Scale;
        return new(clearance / allowances.Scale, ForFeeders * Larger(r => r.Width_mm)) { Basin_mm = Larger(r => r.Basin_mm), Before_mm = Larger(r => r.Before_mm), After_mm = Larger(r => r.After_mm) };

        RunnerRoom Room(bool inCope) => GatingLayout.Room(
            GatingRules.Reckon(
                new(kg, wall, low + high, high, castings.Length, RunnerInCope: inCope, PourTime_s: asked.PourTime_s, Ratio: asked.Ratio) { Head_mm = asked.Head_mm > high ? asked.Head_mm : null }, alloy, tables.Gating),
            allowances.DraftOutside.Value, clearance, tables.Fillets);
    }

    private double Volume_mm3 => Kit.Bridge.Pattern_mm3 - Kit.Bridge.Pockets_mm3;

    private double Below_mm => Kit.Parting.PatternHeight_mm - Kit.Bodies.Min(b => b.InMould.Bounds().Low.Z);

    private double Above_mm => Kit.Bodies.Max(b => b.InMould.Bounds().High.Z) - Kit.Parting.PatternHeight_mm;

    // Where both halves meet nothing cools.
    private double Surface_mm2 => Kit.Bodies.Sum(b => b.InMould.Facets.Select(b.InMould.AreaNormal).Where(n => n.Z != 0).Sum(n => n.Length / 2)) - (2 * Kit.Plan.CopeOutline.Intersection(Kit.Plan.DragOutline).Area);
}
