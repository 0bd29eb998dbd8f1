using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Geometry.Terrain;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Checks;
using PatternKit.Patterns.JobFile;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Moulding;
using PatternKit.Patterns.Parting;
using PatternKit.Patterns.Parts;
using PatternKit.Patterns.Pieces;
using static System.FormattableString;

namespace PatternKit.Patterns.Coupons;

/// <summary>Makes the coupon of a job: small parts of features that go the way of any part, each with a draft of its own.</summary>
internal static class CouponBuilder
{
    /// <summary>Room between the pattern and the coupon in the kit's 3MF file, mm.</summary>
    private const double Aside_mm = 40;

    /// <summary>No draft beyond this is tried: pockets would close.</summary>
    private const double MostDraft_deg = 30;

    private const double Degree = Math.PI / 180;

    /// <summary>The coupon; null where the job wants none.</summary>
    /// <param name="job">The job.</param>
    /// <param name="allowances">Its drafts.</param>
    /// <param name="sand">Whose limit pockets stand at.</param>
    /// <param name="tables">Sizes, and the printer.</param>
    /// <param name="pattern">Everything else of the kit in the mould's frame, to stand clear of.</param>
    /// <param name="height_mm">Height of the higher half of the pattern.</param>
    public static KitCoupon? Build(Job job, Allowances allowances, Sand sand, FoundryTables tables, Box3 pattern, double height_mm)
    {
        if (!job.Coupon) return null;
        var table = tables.Coupons;
        var limit = sand.StandingLimit.Value;
        (double Times, DraftAngles Draft)[] tried =
        [
            .. table.DraftTimes.Order().Select(t => (Times: t, Draft: new DraftAngles(Tried(allowances.DraftOutside.Value, t), Tried(allowances.DraftInside.Value, t)))).DistinctBy(t => t.Draft),
        ];
        var walls = Walls(tried.Select(t => t.Draft), height_mm, limit, tables);
        var made = new CouponTrial[tried.Length];
        var at = new Vec2(pattern.Low.X, pattern.Low.Y - Aside_mm);
        var layouts = tried.Select(t => CouponLayout.Of(t.Draft, walls.Value, limit, table)).ToArray();
        var places = new Vec2[tried.Length];
        for (var i = 0; i < tried.Length; i++)
        {
            // Whole millimetres keep corners on the lattice.
            places[i] = new(Math.Ceiling(at.X + (layouts[i].Size_mm.X / 2)), Math.Floor(at.Y - (layouts[i].Size_mm.Y / 2)));
            at += new Vec2(layouts[i].Size_mm.X + Aside_mm, 0);
        }

        Parallel.For(0, tried.Length, i => made[i] = Trial(job, Invariant($"coupon-{i + 1}"), tried[i].Times, tried[i].Draft, walls.Value, layouts[i], places[i], tables));
        return new([.. made], table.Plate_mm.Value, table.Rib_mm.Value, sand.StandingLimit, [.. Decisions(made, walls, sand, table)]);
    }

    private static double Tried(double draft, double times) => Math.Clamp(times * draft, PatternReader.LeastDraft_deg * Degree, Math.Max(draft, MostDraft_deg * Degree));

    /// <summary>As high as the pattern within the limits of the table, and lower where the bed asks for it.</summary>
    private static Sourced<double> Walls(IEnumerable<DraftAngles> drafts, double height_mm, double limit, FoundryTables tables)
    {
        var table = tables.Coupons;
        var wanted = Math.Clamp(Math.Floor(height_mm), table.LeastWalls_mm, table.MostWalls_mm);
        var rule = Invariant($"of the higher half, {height_mm:0.#} mm, within {table.LeastWalls_mm:0.#} to {table.MostWalls_mm:0.#} mm");
        var height = wanted;
        while (height > table.LeastWalls_mm && !drafts.All(d => OnBed(d, height))) height--;
        return new(height, table.WallsFrom.Text, height < wanted ? $"{rule}, and lower so that the bed takes it" : rule);

        bool OnBed(DraftAngles draft, double walls)
        {
            if (tables.Printer is not { } printer) return true;
            // The plate gets wider at its foot by its own draft.
            var half = (0.5 * CouponLayout.Of(draft, walls, limit, table).Size_mm) + (table.Plate_mm.Value * Math.Tan(draft.Outside) * new Vec2(1, 1));
            return PrinterBed.TurnToFit([-half, new(half.X, -half.Y), half, new(-half.X, half.Y)], printer.Length_mm, printer.Width_mm) is not null;
        }
    }

    private static CouponTrial Trial(Job job, string name, double times, DraftAngles draft, double walls_mm, CouponLayout layout, Vec2 place, FoundryTables tables)
    {
        // Radii of the part's own features and layers mean nothing here.
        var fillet = job.Pattern.Fillet?.All_mm is { } all ? new RadiusSettings(all, ImmutableDictionary<string, double>.Empty) : null;
        var own = job with
        {
            Features = layout.Features,
            Mesh = null,
            Parting = new(0),
            Plate = null,
            Impressions = null,
            Others = [],
            Cores = null,
            Measures = [],
            Pattern = new(draft.Outside, draft.Inside, Contraction: 0, Rapping_mm: 0, Fillet: fillet),
        };
        var allowances = Allowances.None(draft.Outside, tables.Fillets) with { DraftInside = new(draft.Inside, "", Allowances.Given) };
        var part = PartBody.From(own);
        var casting = CastingBody.From(own, part, allowances);
        var sharp = HalfMould.Cope(JointPlan.From(casting, PartingChooser.Choose(own, part, casting, tables.Loose), tables.Loose).Terrain, draft, casting.Lattice, new MeshingTolerance(part.ChordTolerance_mm));
        var mould = sharp.Filleted(FilletPlan.Of(own, sharp, MouldHalf.Cope, casting.Frame, allowances, RoundPlan.None, tables.DrawCheck), []);
        var handling = DrawScrews.Of(mould, MouldHalf.Cope, job.Pattern.DrawScrews, PlanRegion.Empty, tables.Handling);
        ImmutableArray<UprightPocket> pockets = [.. handling.Screws.Select(s => new UprightPocket(s.Region, s.Depth_mm))];
        var mesh = mould.Body(pockets);
        var aside = new Vec3(place.X, place.Y, 0);
        var inMould = mesh.Mapped(v => v + aside);
        var (least, at) = PlacedHalves.LeastDraft(mesh, inMould, pockets);
        return new(new(name, MouldHalf.Cope, inMould, mesh, TurnedFrame.Rows(aside, 1, 1, 0), least, at), draft, times, walls_mm, layout.Gap_mm, layout.Pockets, layout.Figures, handling);
    }

    private static IEnumerable<Decision> Decisions(IEnumerable<CouponTrial> trials, Sourced<double> walls, Sand sand, CouponTable table)
    {
        yield return new("coupon_walls_mm", "Coupon, height of its walls", walls.Value, "mm", walls.Rule, walls.Source);
        yield return new("coupon_pocket_slenderness", "Coupon, depth of the first pocket over its width", trials.First().Pockets[0].Slenderness, "", $"the limit of {sand.Title.ToLowerInvariant()} standing in the drag, no more than its draft leaves room for", sand.StandingLimit.From.Text);
        foreach (var t in trials)
        {
            var key = t.Body.Name.Replace('-', '_');
            var rule = Invariant($"{t.Times:0.##} times that of the pattern, no less than {PatternReader.LeastDraft_deg:0.##}°");
            yield return new($"{key}_outside_deg", $"Coupon {t.Body.Name[^1]}, draft outside", t.Draft.Outside / Degree, "deg", rule, table.DraftFrom.Text);
            yield return new($"{key}_inside_deg", $"Coupon {t.Body.Name[^1]}, draft inside", t.Draft.Inside / Degree, "deg", rule, table.DraftFrom.Text);
        }
    }
}
