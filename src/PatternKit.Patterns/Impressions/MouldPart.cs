using System.Collections.Immutable;
using PatternKit.Foundry;
using PatternKit.Geometry.Columns;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Casting;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Impressions;

/// <summary>One part of a mould, as a job of its own under what is common to the mould, and where its castings stand.</summary>
/// <param name="Job">Its own features, joint, stock, fillets and measures, about its own origin; the rest is the mould's.</param>
/// <param name="Body">The finished part.</param>
/// <param name="Allowances">By its own size.</param>
/// <param name="At_mm">Where its origin goes each time; empty until they are arranged.</param>
internal sealed record MouldPart(Job Job, PartBody Body, Allowances Allowances, ImmutableArray<Vec2> At_mm)
{
    /// <summary>How many castings.</summary>
    public required int Count { get; init; }

    /// <summary>How far it is moved up, so that its joint lies in that of the mould, mm.</summary>
    public double Rise_mm { get; init; }

    /// <summary>Weight of one casting by itself; 0 where all castings are alike and it is not asked for.</summary>
    public double Casting_kg { get; init; }

    /// <summary>Why its joint is where it is.</summary>
    public string JointReason { get; init; } = "";

    /// <summary>Rules that the size of this part alone would settle otherwise than the mould has them.</summary>
    public ImmutableArray<Finding> Findings { get; init; } = [];

    /// <summary>A part from another job.</summary>
    /// <param name="other">The part as listed.</param>
    /// <param name="main">The job of the mould.</param>
    /// <param name="mould">Its allowances.</param>
    /// <param name="tables">Rules.</param>
    public static MouldPart Of(OtherPart other, Job main, Allowances mould, FoundryTables tables)
    {
        var read = other.Job;
        string Named(string name) => $"{read.Name}: {name}";
        var byNames = (ImmutableDictionary<string, double> names) => names.ToImmutableDictionary(n => Named(n.Key), n => n.Value);
        var stock = read.Pattern.Stock is { } s
            ? s with { Names_mm = s.Names_mm is { } names ? byNames(names) : null, ByRule = s.ByRule?.Select(n => JobFile.PartReader.Places.Contains(n) ? n : Named(n)).ToImmutableSortedSet(StringComparer.Ordinal) }
            : null;
        RadiusSettings? Radii(RadiusSettings? asked) => asked is null ? null : asked with { Names_mm = byNames(asked.Names_mm) };
        var job = main with
        {
            Name = read.Name,
            Title = read.Title,
            Unit = read.Unit,
            Features = [.. read.Features.Select(f => Turned(f, other.Turn) with { Name = Named(f.Name), Layer = f.Layer is { } layer ? Named(layer) : null, Part = read.Name, Where = $"{read.Name}/{f.Where}" })],
            Loose = [.. read.Loose.Select(l => l with { Name = Named(l.Name), At_mm = Turned(l.At_mm, other.Turn), Facing = Turned(l.Facing, other.Turn), Part = read.Name, Where = $"{read.Name}/{l.Where}" })],
            Measures = [.. read.Measures.Select(m => m with { Name = Named(m.Name), From_mm = Turned(m.From_mm, other.Turn), To_mm = Turned(m.To_mm, other.Turn) })],
            Parting = read.Parting with { Match = main.Parting.Match },
            Pattern = main.Pattern with { Stock = stock, Fillet = Radii(read.Pattern.Fillet), Round = Radii(read.Pattern.Round) },
            Inputs = read.Inputs,
            Notes = [],
        };
        var body = PartBody.From(job);
        var own = Allowances.Resolve(job, body.Box.Size, tables);
        return new(job, body, own with { Contraction = mould.Contraction, Rapping_mm = mould.Rapping_mm, DraftOutside = mould.DraftOutside, DraftInside = mould.DraftInside }, other.At_mm)
        {
            Count = other.Count,
            Findings = [.. Common(read.Name, own, mould)],
        };
    }

    /// <summary>The job from which one casting of it is made alone, with the very draft and scale of the mould.</summary>
    public Job Alone => Job with
    {
        Impressions = null,
        Others = [],
        Plate = null,
        Gating = new(Wanted: false),
        Feeders = false,
        Coupon = false,
        Measures = [],
        Pattern = Job.Pattern with
        {
            Contraction = Allowances.Contraction.Value,
            MasterContraction = 0,
            Rapping_mm = Allowances.Rapping_mm.Value,
            DraftOutside = Allowances.DraftOutside.Value,
            DraftInside = Allowances.DraftInside.Value,
        },
    };

    /// <summary>Its features once for each casting.</summary>
    public IEnumerable<Feature> Features => At_mm.SelectMany(at => Job.Features.Select(f => Moved(f, at, Rise_mm)));

    /// <summary>Its loose pieces, numbered where there are several castings.</summary>
    public IEnumerable<LoosePart> Loose => At_mm.SelectMany((at, i) => Job.Loose.Select(l => l with { Name = At_mm.Length == 1 ? l.Name : $"{l.Name} {i + 1}", At_mm = l.At_mm + Shift(at) }));

    /// <summary>Its measures, on the first casting.</summary>
    public IEnumerable<Measure> Measures => Job.Measures.Select(m => m with { From_mm = m.From_mm + Shift(At_mm[0]), To_mm = m.To_mm + Shift(At_mm[0]) });

    private Vec3 Shift(Vec2 at) => new(at.X, at.Y, Rise_mm);

    /// <summary>What goes by the size of the part, and serves the whole mould as the first part has it.</summary>
    private static IEnumerable<Finding> Common(string name, Allowances own, Allowances mould)
    {
        const double degrees = 180 / Math.PI;
        (string What, double Own, double Taken, string Unit, double Least, string Source)[] all =
        [
            ("contraction", 100 * own.Contraction.Value, 100 * mould.Contraction.Value, "%", 0.005, mould.Contraction.Source),
            ("rapping", own.Rapping_mm.Value, mould.Rapping_mm.Value, "mm", 0.005, mould.Rapping_mm.Source),
            ("draft outside", degrees * own.DraftOutside.Value, degrees * mould.DraftOutside.Value, "deg", 0.005, mould.DraftOutside.Source),
            ("draft inside", degrees * own.DraftInside.Value, degrees * mould.DraftInside.Value, "deg", 0.005, mould.DraftInside.Source),
        ];
        foreach (var (what, alone, taken, unit, least, source) in all.Where(a => Math.Abs(a.Own - a.Taken) > a.Least))
        {
            yield return new(
                "common-value", Severity.Note, FormattableString.Invariant($"By its own size {name} would have {alone:0.##} {(unit == "deg" ? "°" : unit)} of {what}; one value serves the mould, and it gets {taken:0.##}."),
                null, taken, alone, source, $"Where that matters, write the {what.Split(' ')[0]} that suits both, or mould {name} by itself.", unit);
        }
    }

    private static Feature Moved(Feature feature, Vec2 at, double rise)
    {
        if (rise != 0) feature = feature with { Low_mm = feature.Low_mm + rise, High_mm = feature.High_mm + rise };
        if (at == default && rise == 0) return feature;
        return feature.Turned is { } turned ? feature with { Turned = turned with { At_mm = turned.At_mm + new Vec3(at.X, at.Y, rise) } }
            : feature with { Loops = [.. feature.Loops.Select(l => l.Transformed(1, 0, at))] };
    }

    private static Feature Turned(Feature feature, double turn)
    {
        if (turn == 0) return feature;
        if (feature.Turned is not { } lying) return feature with { Loops = [.. feature.Loops.Select(l => l.Transformed(1, turn, default))] };
        var at = Turned(lying.At_mm, turn);
        if (lying.Axis == TurnedAxis.Z) return feature with { Turned = lying with { At_mm = at } };
        // By quarters: x goes to y, and y to −x, along which the profile runs the other way.
        var quarters = (((int)Math.Round(turn / (Math.PI / 2)) + (lying.Axis == TurnedAxis.Y ? 1 : 0)) % 4 + 4) % 4;
        return feature with
        {
            Turned = new(quarters % 2 == 0 ? TurnedAxis.X : TurnedAxis.Y, at),
            Loops = quarters < 2 ? feature.Loops : [.. feature.Loops.Select(l => l.Transformed(1, 0, default, mirrored: true).Reversed())],
        };
    }

    private static Vec3 Turned(Vec3 p, double turn)
    {
        var plan = Turned(p.Plan, turn);
        return new(plan.X, plan.Y, p.Z);
    }

    private static Vec2 Turned(Vec2 p, double turn)
    {
        if (turn == 0) return p;
        var (s, c) = Math.SinCos(turn);
        return new((c * p.X) - (s * p.Y), (s * p.X) + (c * p.Y));
    }
}
