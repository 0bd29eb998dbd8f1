using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Foundry;
using PatternKit.Geometry.Numerics;
using PatternKit.Patterns.Parts;

namespace PatternKit.Patterns.Casting;

/// <summary>
/// Everything that the pattern is given beyond the part, decided: the user's value where there is one, else that of a
/// rule, each with its source.
/// </summary>
/// <param name="Contraction">Fraction of the casting, a second contraction multiplied in: pattern = casting × (1 + value).</param>
/// <param name="Rapping_mm">Taken off walls along the draw.</param>
/// <param name="Stock">Machining stock.</param>
/// <param name="DraftOutside">Radians, for walls that bound the outside.</param>
/// <param name="DraftInside">Radians, for walls that bound a hole or recess of the plan.</param>
/// <param name="Camber">A bow; null for none.</param>
/// <param name="Dowels">Register holes wanted: null where the size of the halves decides, which is known after parting.</param>
/// <param name="DowelDiameter_mm">Diameter asked for, null by rule.</param>
/// <param name="SkinDraft">Of the drafts that a rule found, radians that the printed skin asks for; null where both are given.</param>
/// <param name="StockByRule">For places, features and layers whose stock a rule found: the figure with its source, also in Stock.</param>
public sealed record Allowances(
    Sourced<double> Contraction,
    Sourced<double> Rapping_mm,
    Sourced<StockSettings> Stock,
    Sourced<double> DraftOutside,
    Sourced<double> DraftInside,
    Sourced<CamberSettings?> Camber,
    bool? Dowels = null,
    double? DowelDiameter_mm = null,
    Sourced<double>? SkinDraft = null,
    ImmutableSortedDictionary<string, Sourced<double>>? StockByRule = null)
{
    /// <summary>The rule text of a value that the user gave.</summary>
    public const string Given = "given in the job";

    /// <summary>By what inside corners are rounded, where the job gives no radius.</summary>
    public required FilletTable Fillets { get; init; }

    /// <summary>Pattern size over casting size.</summary>
    public double Scale => 1 + Contraction.Value;

    /// <summary>Nothing but the part: no allowance at all, and the draft angle given.</summary>
    /// <param name="draft">Radians.</param>
    /// <param name="fillets">By what inside corners are rounded.</param>
    public static Allowances None(double draft, FilletTable fillets) =>
        new(Fixed(0.0), Fixed(0.0), Fixed(new StockSettings()), Fixed(draft), Fixed(draft), Fixed<CamberSettings?>(null), false) { Fillets = fillets };

    /// <summary>The allowances of a job.</summary>
    /// <param name="job">The job.</param>
    /// <param name="size_mm">Edge lengths of the part's box.</param>
    /// <param name="tables">Alloys and rules, the shop's own included.</param>
    /// <exception cref="InputException">The alloy or sand is not in the tables, or the part is beyond them.</exception>
    public static Allowances Resolve(Job job, Vec3 size_mm, FoundryTables tables)
    {
        var asked = job.Pattern;
        var largest_mm = Math.Max(Math.Max(size_mm.X, size_mm.Y), size_mm.Z);
        var stock = asked.Stock ?? new();
        var skin = asked.Skin ?? DraftRule.UsualSkin;
        var stockByRule = Known(job, () => StockRule.Find(job, stock, largest_mm, tables));
        return new(
            ContractionOf(job, largest_mm, tables),
            asked.Rapping_mm is { } rapping ? Fixed(rapping) : Rapping.For(tables.Rapping, Math.Max(size_mm.X, size_mm.Y)),
            new(StockRule.Filled(stock, stockByRule), "", asked.Stock is null ? StockRule.NoneAsked : Given),
            DraftOf(asked.DraftOutside, size_mm.Z, inside: false, skin, tables.Draft),
            DraftOf(asked.DraftInside, size_mm.Z, inside: true, skin, tables.Draft),
            asked.Camber is { } camber ? Fixed<CamberSettings?>(camber) : new(null, "", "none asked"),
            asked.Dowels,
            asked.DowelDiameter_mm,
            asked is { DraftOutside: not null, DraftInside: not null } ? null : SkinDraftOf(asked.Skin, tables.Draft),
            stockByRule)
        {
            Fillets = tables.Fillets,
        };
    }

    private static Sourced<double> ContractionOf(Job job, double largest_mm, FoundryTables tables)
    {
        var first = job.Pattern.Contraction is { } given
            ? Fixed(given)
            : Known(job, () => Foundry.Contraction.InShop(tables.Alloy(job.Alloy), tables.Sand(job.Sand), largest_mm, tables));
        if (job.Pattern.MasterContraction == 0) return first;
        var both = Foundry.Contraction.Combine(first.Value, job.Pattern.MasterContraction);
        return new(both.Value, first.Source, $"{first.Rule}; master: {both.Rule}");
    }

    /// <summary>The rule goes by the height of the whole part: the joint is not chosen yet, and no wall is higher.</summary>
    private static Sourced<double> DraftOf(double? given, double height_mm, bool inside, PatternSkin skin, DraftTable table)
    {
        if (given is null) return DraftRule.For(table, height_mm, inside, skin);
        var floor = DraftRule.Floor(table);
        return given.Value >= floor.Value ? Fixed(given.Value) : new(floor.Value, floor.Source, $"{Given} as less; {floor.Rule}");
    }

    private static Sourced<double> SkinDraftOf(PatternSkin? asked, DraftTable table)
    {
        var found = DraftRule.ForSkin(table, asked ?? DraftRule.UsualSkin);
        return found with { Rule = $"{found.Rule}, in every draft that is found by rule; skin {(asked is null ? "not named: the usual one of a kit" : Given)}" };
    }

    private static T Known<T>(Job job, Func<T> find)
    {
        try
        {
            return find();
        }
        catch (UnknownNameException e)
        {
            throw new InputException($"{PartBody.Source(job)}: {e.Message}", e);
        }
    }

    private static Sourced<T> Fixed<T>(T value) => new(value, "", Given);
}
