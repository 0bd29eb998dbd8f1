using System.Collections.Immutable;
using System.Reflection;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>
/// All tables of the trade, immutable. <see cref="Default"/> holds the built-in ones; <see cref="With"/> gives a copy
/// with a shop's own alloys, sands, cores, pouring, melting, spread and printer, and what it owns and has measured. Safe to share between threads.
/// </summary>
public sealed class FoundryTables
{
    private static readonly Lazy<FoundryTables> LazyDefault = new(Load);

    private FoundryTables(
        ImmutableArray<Alloy> alloys,
        ImmutableArray<Sand> sands,
        ImmutableArray<Caution> cautions,
        DraftTable draft,
        MachiningTables machining,
        ImmutableArray<RappingRow> rapping,
        Quoted camber,
        DowelTable dowels,
        HandlingTable handling,
        FilletTable fillets,
        JointTable joint,
        LetterTable letters,
        DrawTable drawCheck,
        LyingTable lying,
        PlateTable plates,
        CouponTable coupons,
        LooseTable loose,
        OriginalTable originals,
        CoreTable cores,
        GatingTables gating,
        BedCutTable bedCuts,
        FillingTable filling,
        FeedingTable feeding,
        MouldTables mould,
        Workshop? workshop = null,
        Printer? printer = null)
    {
        Alloys = alloys;
        Sands = sands;
        Cautions = cautions;
        Draft = draft;
        Machining = machining;
        Rapping = rapping;
        Camber = camber;
        Dowels = dowels;
        Handling = handling;
        Fillets = fillets;
        Joint = joint;
        Letters = letters;
        DrawCheck = drawCheck;
        Lying = lying;
        Plates = plates;
        Coupons = coupons;
        Loose = loose;
        Originals = originals;
        Cores = cores;
        Gating = gating;
        BedCuts = bedCuts;
        Filling = filling;
        Feeding = feeding;
        Mould = mould;
        Workshop = workshop ?? Workshop.Empty;
        Printer = printer;
    }

    /// <summary>The built-in tables, parsed once.</summary>
    public static FoundryTables Default => LazyDefault.Value;

    /// <summary>Every alloy, in the order of the table, the shop's own last.</summary>
    public ImmutableArray<Alloy> Alloys { get; }

    /// <summary>Every sand, in the order of the table, the shop's own last.</summary>
    public ImmutableArray<Sand> Sands { get; }

    /// <summary>Every safety caution.</summary>
    public ImmutableArray<Caution> Cautions { get; }

    /// <summary>Draft by height.</summary>
    public DraftTable Draft { get; }

    /// <summary>Tolerance and stock tables of ISO 8062.</summary>
    public MachiningTables Machining { get; }

    /// <summary>Growth of the cavity by rapping.</summary>
    public ImmutableArray<RappingRow> Rapping { get; }

    /// <summary>Camber, mm a metre of length.</summary>
    public Quoted Camber { get; }

    /// <summary>Dowel sizes.</summary>
    public DowelTable Dowels { get; }

    /// <summary>Draw screws and rapping plates.</summary>
    public HandlingTable Handling { get; }

    /// <summary>Fillet rules.</summary>
    public FilletTable Fillets { get; }

    /// <summary>The parting faces.</summary>
    public JointTable Joint { get; }

    /// <summary>The finest lettering.</summary>
    public LetterTable Letters { get; }

    /// <summary>What the draw check lets pass.</summary>
    public DrawTable DrawCheck { get; }

    /// <summary>What counts against a way to lie in the mould.</summary>
    public LyingTable Lying { get; }

    /// <summary>Pattern plates.</summary>
    public PlateTable Plates { get; }

    /// <summary>Bodies to try sand, skin and taper on.</summary>
    public CouponTable Coupons { get; }

    /// <summary>Pieces that are drawn sideways after the main pattern.</summary>
    public LooseTable Loose { get; }

    /// <summary>When a part will do as its own pattern.</summary>
    public OriginalTable Originals { get; }

    /// <summary>Cores and core boxes, the shop's own values included.</summary>
    public CoreTable Cores { get; }

    /// <summary>What gating is reckoned with, the shop's pouring rate included.</summary>
    public GatingTables Gating { get; }

    /// <summary>How bodies larger than the printer's bed are cut.</summary>
    public BedCutTable BedCuts { get; }

    /// <summary>What filling and freezing are checked with.</summary>
    public FillingTable Filling { get; }

    /// <summary>What feeders are reckoned with.</summary>
    public FeedingTable Feeding { get; }

    /// <summary>Between pattern and pour, the shop's own values included.</summary>
    public MouldTables Mould { get; }

    /// <summary>What the shop owns and has measured.</summary>
    public Workshop Workshop { get; }

    /// <summary>The shop's printer; null where it gives none.</summary>
    public Printer? Printer { get; }

    /// <summary>An alloy by its key or one of its other designations.</summary>
    /// <exception cref="UnknownNameException">None has that name; the message names the nearest.</exception>
    public Alloy Alloy(string name) =>
        Alloys.FirstOrDefault(a => a.Key == name)
        ?? Alloys.FirstOrDefault(a => a.Aliases.Contains(name))
        ?? throw new UnknownNameException("alloy", name, NearestName.Of(name, Alloys.SelectMany(a => a.Aliases.Insert(0, a.Key))));

    /// <summary>A sand by its key.</summary>
    /// <exception cref="UnknownNameException">None has that name; the message names the nearest.</exception>
    public Sand Sand(string key) =>
        Sands.FirstOrDefault(s => s.Key == key)
        ?? throw new UnknownNameException("sand", key, NearestName.Of(key, Sands.Select(s => s.Key)));

    /// <summary>The cautions for a pour, in the order of the work: those that always hold, and those of alloy, sand and cores.</summary>
    /// <param name="alloy">The metal.</param>
    /// <param name="sand">The mould's sand; null where none is meant.</param>
    /// <param name="hasCores">Whether the mould has cores.</param>
    public ImmutableArray<Caution> CautionsFor(Alloy alloy, Sand? sand = null, bool hasCores = false) =>
    [
        .. Cautions.Where(c => c.Always || alloy.Cautions.Contains(c.Key) || c.Families.Contains(alloy.Family) || (sand is not null && c.Sands.Contains(sand.Key)) || (hasCores && c.Key == "cores"))
            .Select(c => c.For(alloy)),
    ];

    /// <summary>
    /// A copy with the rows <c>[alloys.KEY]</c>, <c>[sands.KEY]</c>, <c>[cores]</c>, <c>[pouring]</c>, <c>[melting]</c>, <c>[spread]</c> and <c>[printer]</c> of a shop file
    /// merged in: a known key is changed in the fields given, a new key must be complete. <c>[[flask]]</c>, <c>[[crucible]]</c> and <c>[[cast]]</c> are listed. Rows without a source column take the shop file as their source.
    /// Other tables of the file belong to other readers and are left alone here.
    /// </summary>
    /// <param name="tomlText">The shop file.</param>
    /// <param name="sourceName">Its name, for messages and as the source of its rows.</param>
    /// <exception cref="TableException">With the line, what is wrong and what would be right.</exception>
    public FoundryTables With(string tomlText, string sourceName)
    {
        var file = TomlDocument.Parse(tomlText, sourceName);
        var unsourced = new Provenance(sourceName, Basis.Shop, [], "");
        var alloys = Merged(file, "alloys", sourceName, unsourced, Alloys, a => a.Key, AlloyReader.Read);
        var sands = Merged(file, "sands", sourceName, unsourced, Sands, s => s.Key, SandReader.Read);
        CheckAlloys(alloys, Cautions, file, sourceName);
        var gating = Own("pouring") is { } pouring ? GatingTableReader.Shop(Gating, pouring) : Gating;
        var cores = Own("cores") is { } core ? Cores.With(core) : Cores;
        var printer = Own("printer") is { } row ? Foundry.Printer.Read(Printer, row) : Printer;
        var mould = Mould with
        {
            Melting = Own("melting") is { } melting ? Mould.Melting.With(melting) : Mould.Melting,
            Spread = Own("spread") is { } spread ? Mould.Spread.With(spread) : Mould.Spread,
        };
        FoundryTables Built(Workshop workshop) => new(
            alloys, sands, Cautions, Draft, Machining, Rapping, Camber, Dowels, Handling, Fillets, Joint, Letters, DrawCheck, Lying, Plates, Coupons, Loose, Originals, cores, gating, BedCuts, Filling, Feeding, mould, workshop, printer);
        // Castings name alloys and sands of this very file too.
        return Built(Workshop.With(file, sourceName, unsourced, Built(Workshop)));

        RowReader? Own(string name) => file.Find(name) switch
        {
            null => null,
            TomlMap table => new(sourceName, name, table, unsourced),
            var other => throw new TableException(sourceName, name, other.Line, $"is {other.Kind}; expected a table [{name}]."),
        };
    }

    private static FoundryTables Load()
    {
        var metals = Embedded("alloys.toml");
        var alloys = Merged(metals, "alloys", "alloys.toml", null, ImmutableArray<Alloy>.Empty, a => a.Key, AlloyReader.Read);
        var sands = Merged(Embedded("sands.toml"), "sands", "sands.toml", null, ImmutableArray<Sand>.Empty, s => s.Key, SandReader.Read);
        var cautions = Merged(Embedded("cautions.toml"), "cautions", "cautions.toml", null, ImmutableArray<Caution>.Empty, c => c.Key, ReadCaution);
        CheckAlloys(alloys, cautions, metals, "alloys.toml");
        var camber = Whole("camber.toml");
        var rise = camber.Row("camber").Quoted("rise_mm_per_m", 0, 20);
        camber.Finish();
        return new FoundryTables(
            alloys,
            sands,
            cautions,
            DraftTable.Read(Whole("draft.toml")),
            MachiningTables.Read(Whole("machining.toml")),
            Foundry.Rapping.Read(Whole("rapping.toml")),
            rise,
            DowelTable.Read(Whole("dowels.toml")),
            HandlingTable.Read(Whole("handling.toml")),
            FilletTable.Read(Whole("fillets.toml")),
            JointTable.Read(Whole("joint.toml")),
            LetterTable.Read(Whole("letters.toml")),
            DrawTable.Read(Whole("draw.toml")),
            LyingTable.Read(Whole("lying.toml")),
            PlateTable.Read(Whole("plates.toml")),
            CouponTable.Read(Whole("coupon.toml")),
            LooseTable.Read(Whole("loose.toml")),
            OriginalTable.Read(Whole("originals.toml")),
            CoreTable.Read(Whole("cores.toml")),
            GatingTableReader.Read(Whole("gating.toml")),
            BedCutTable.Read(Whole("bedcuts.toml")),
            FillingTable.Read(Whole("filling.toml")),
            FeedingTable.Read(Whole("feeding.toml")),
            MouldTables.Read(Whole));
    }

    private static ImmutableArray<T> Merged<T>(
        TomlMap file,
        string section,
        string sourceName,
        Provenance? unsourced,
        ImmutableArray<T> known,
        Func<T, string> keyOf,
        Func<string, RowReader, T?, T> read)
        where T : class
    {
        var found = file.Find(section);
        if (found is null)
            return known;
        if (found is not TomlMap rows)
            throw new TableException(sourceName, section, found.Line, $"is {found.Kind}; expected tables like [{section}.NAME].");
        var merged = known.ToList();
        foreach (var field in rows.Fields)
        {
            var name = $"{section}.{Shown.Short(field.Key)}";
            if (field.Value is not TomlMap row)
                throw new TableException(sourceName, name, field.Line, $"is {field.Value.Kind}; expected a table [{section}.NAME].");
            var index = merged.FindIndex(x => keyOf(x) == field.Key);
            var reader = new RowReader(sourceName, name, row, unsourced);
            if (index >= 0)
                merged[index] = read(field.Key, reader, merged[index]);
            else
                merged.Add(ReadNew(field.Key, reader, known.Select(keyOf), read));
        }
        return [.. merged];
    }

    /// <summary>A new row that is incomplete is most often a known one with its name mistyped.</summary>
    private static T ReadNew<T>(string key, RowReader row, IEnumerable<string> known, Func<string, RowReader, T?, T> read)
        where T : class
    {
        try
        {
            return read(key, row, null);
        }
        catch (TableException e)
        {
            var near = known.Where(k => NearestName.Near(k, key)).ToArray();
            if (near.Length == 0)
                throw;
            throw new TableException(e.Table, e.Row, e.Line, $"{e.Problem} This key is new; did you mean the known '{NearestName.Of(key, near)[0]}'?", e);
        }
    }

    /// <summary>What no single row can see: names that mean two alloys, cautions that nobody wrote.</summary>
    private static void CheckAlloys(ImmutableArray<Alloy> alloys, ImmutableArray<Caution> cautions, TomlMap file, string sourceName)
    {
        TableException Error(Alloy alloy, string problem)
        {
            var line = (file.Find("alloys") as TomlMap)?.Find(alloy.Key)?.Line;
            return new TableException(sourceName, $"alloys.{Shown.Short(alloy.Key)}", line, problem);
        }

        var names = new Dictionary<string, Alloy>(StringComparer.Ordinal);
        foreach (var alloy in alloys)
        {
            foreach (var name in alloy.Aliases.Insert(0, alloy.Key))
            {
                if (!names.TryAdd(name, alloy))
                    throw Error(alloy, $"the name '{Shown.Short(name)}' already means '{names[name].Key}'; use that key, or another name.");
            }
            foreach (var key in alloy.Cautions)
            {
                if (cautions.All(c => c.Key != key))
                    throw Error(alloy, $"unknown caution '{Shown.Short(key)}'; nearest known: {NearestName.Of(key, cautions.Select(c => c.Key))[0]}.");
            }
        }
    }

    private static Caution ReadCaution(string key, RowReader row, Caution? known)
    {
        var caution = new Caution(key, row.Text("text"), row.Text("when"), row.FlagOr("always", false), row.Provenance())
        {
            Families = [.. row.TextsOrNone("families").Select(f => AlloyReader.FamilyWords.TryGetValue(f, out var family) ? family : throw row.Error($"there is no family '{Shown.Short(f)}'."))],
            Sands = row.TextsOrNone("sands"),
            Boils_C = row.Has("boils_C") ? row.Number("boils_C", 0, 4000) : null,
        };
        row.Finish();
        return caution;
    }

    private static RowReader Whole(string name) => new(name, "table", Embedded(name), null);

    private static TomlMap Embedded(string name)
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(name)
            ?? throw new TableException(name, null, null, "the built-in table is missing from the program.");
        using var reader = new StreamReader(stream);
        return TomlDocument.Parse(reader.ReadToEnd(), name);
    }
}
