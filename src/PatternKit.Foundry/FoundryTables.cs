using System.Collections.Immutable;
using System.Reflection;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>
/// All tables of the trade, immutable. <see cref="Default"/> holds the built-in ones; <see cref="With"/> gives a copy
/// with a shop's own alloys, sands, cores, pouring, melting, spread and printer, and what it owns and has measured. Safe to share between threads.
/// </summary>
public sealed record FoundryTables
{
    /// <summary>Tables that are not laid over: alloys and sands have sections of their own, cautions stay, sources are those of the built-in rows.</summary>
    private static readonly string[] Apart = ["alloys", "sands", "cautions", "sources"];

    private static readonly Lazy<FoundryTables> LazyDefault = new(() => Load(BuiltIn()));

    private FoundryTables(ImmutableSortedDictionary<string, TomlMap> files) => Files = files;

    /// <summary>The built-in tables, parsed once.</summary>
    public static FoundryTables Default => LazyDefault.Value;

    /// <summary>Every source that a row of the built-in tables names, by that name.</summary>
    public required ImmutableDictionary<string, SourceRow> Sources { get; init; }

    /// <summary>The tables' own text, what shop files lay over it included, by name.</summary>
    private ImmutableSortedDictionary<string, TomlMap> Files { get; }

    /// <summary>The shop files merged in, in their order.</summary>
    private ImmutableArray<(TomlMap File, string Name)> Shops { get; init; } = [];

    /// <summary>Every alloy, in the order of the table, the shop's own last.</summary>
    public required ImmutableArray<Alloy> Alloys { get; init; }

    /// <summary>Every sand, in the order of the table, the shop's own last.</summary>
    public required ImmutableArray<Sand> Sands { get; init; }

    /// <summary>Every safety caution.</summary>
    public required ImmutableArray<Caution> Cautions { get; init; }

    /// <summary>Draft by height.</summary>
    public required DraftTable Draft { get; init; }

    /// <summary>Tolerance and stock tables of ISO 8062.</summary>
    public required MachiningTables Machining { get; init; }

    /// <summary>Growth of the cavity by rapping.</summary>
    public required ImmutableArray<RappingRow> Rapping { get; init; }

    /// <summary>Camber, mm a metre of length.</summary>
    public required Quoted Camber { get; init; }

    /// <summary>Dowel sizes.</summary>
    public required DowelTable Dowels { get; init; }

    /// <summary>Draw screws and rapping plates.</summary>
    public required HandlingTable Handling { get; init; }

    /// <summary>Fillet rules.</summary>
    public required FilletTable Fillets { get; init; }

    /// <summary>The parting faces.</summary>
    public required JointTable Joint { get; init; }

    /// <summary>The finest lettering.</summary>
    public required LetterTable Letters { get; init; }

    /// <summary>What the draw check lets pass.</summary>
    public required DrawTable DrawCheck { get; init; }

    /// <summary>What counts against a way to lie in the mould.</summary>
    public required LyingTable Lying { get; init; }

    /// <summary>Pattern plates.</summary>
    public required PlateTable Plates { get; init; }

    /// <summary>Bodies to try sand, skin and taper on.</summary>
    public required CouponTable Coupons { get; init; }

    /// <summary>Pieces that are drawn sideways after the main pattern.</summary>
    public required LooseTable Loose { get; init; }

    /// <summary>When a part will do as its own pattern.</summary>
    public required OriginalTable Originals { get; init; }

    /// <summary>Cores and core boxes, the shop's own values included.</summary>
    public required CoreTable Cores { get; init; }

    /// <summary>What gating is reckoned with, the shop's pouring rate included.</summary>
    public required GatingTables Gating { get; init; }

    /// <summary>How bodies larger than the printer's bed are cut.</summary>
    public required BedCutTable BedCuts { get; init; }

    /// <summary>What filling and freezing are checked with.</summary>
    public required FillingTable Filling { get; init; }

    /// <summary>What feeders are reckoned with.</summary>
    public required FeedingTable Feeding { get; init; }

    /// <summary>Between pattern and pour, the shop's own values included.</summary>
    public required MouldTables Mould { get; init; }

    /// <summary>What the shop owns and has measured.</summary>
    public Workshop Workshop { get; init; } = Workshop.Empty;

    /// <summary>The shop's printer; null where it gives none.</summary>
    public Printer? Printer { get; init; }

    /// <summary>What the shop's prints grow by until they are finished; null where it gives nothing.</summary>
    public PrintGrowth? Growth { get; init; }

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
    /// merged in: a known key is changed in the fields given, a new key must be complete. <c>[tables.NAME]</c> is laid over the other built-in tables; what the short sections say goes before it, whichever file has them.
    /// <c>[[flask]]</c>, <c>[[crucible]]</c>, <c>[[cast]]</c> and <c>[[mould_constant]]</c> are listed. Rows without a source column take the shop file as their source.
    /// </summary>
    /// <param name="tomlText">The shop file.</param>
    /// <param name="sourceName">Its path, for messages; its name is the source of its rows.</param>
    /// <exception cref="TableException">With the line, what is wrong and what would be right.</exception>
    public FoundryTables With(string tomlText, string sourceName)
    {
        var shop = (File: TomlDocument.Parse(tomlText, sourceName), Name: sourceName);
        var shops = Shops.Add(shop);
        var tables = Overlaid(shop.File, sourceName) is { } files
            ? shops.Aggregate(Load(files), (t, s) => t.WithSections(s.File, s.Name))
            : WithSections(shop.File, sourceName);
        return tables with { Shops = shops };
    }

    /// <summary>The files with [tables.NAME] laid over them; null where the shop file has none.</summary>
    private ImmutableSortedDictionary<string, TomlMap>? Overlaid(TomlMap shop, string shopName)
    {
        if (shop.Find("tables") is not { } found) return null;
        if (found is not TomlMap own) throw new TableException(shopName, "tables", found.Line, $"is {found.Kind}; expected tables like [tables.draft].");
        var files = Files;
        foreach (var field in own.Fields)
        {
            var name = $"tables.{Shown.Short(field.Key)}";
            if (!Files.TryGetValue(field.Key, out var known) || Apart.Contains(field.Key))
                throw new TableException(shopName, name, field.Line, $"there is no such table to change; nearest known: {NearestName.Of(field.Key, Files.Keys.Except(Apart))[0]}.");
            if (field.Value is not TomlMap rows)
                throw new TableException(shopName, name, field.Line, $"is {field.Value.Kind}; expected tables like [{name}.ROW].");
            files = files.SetItem(field.Key, TableOverlay.Over(known, rows, shopName));
        }

        return files;
    }

    private FoundryTables WithSections(TomlMap file, string sourceName)
    {
        var sources = SourceColumn.Shop(SourceColumn.FileName(sourceName));
        var alloys = Merged(file, "alloys", sourceName, sources, Alloys, a => a.Key, AlloyReader.Read);
        CheckAlloys(alloys, Cautions, file, sourceName);
        var (printer, growth) = (Printer, Growth);
        if (Own("printer") is { } row)
        {
            (printer, growth) = (Foundry.Printer.Read(Printer, row), PrintGrowth.Read(Growth, row));
            row.Finish();
        }

        var tables = this with
        {
            Alloys = alloys,
            Sands = Merged(file, "sands", sourceName, sources, Sands, s => s.Key, SandReader.Read),
            Gating = Own("pouring") is { } pouring ? GatingTableReader.Shop(Gating, pouring) : Gating,
            Cores = Own("cores") is { } core ? Cores.With(core) : Cores,
            Printer = printer,
            Growth = growth,
            Mould = Mould with
            {
                Melting = Own("melting") is { } melting ? Mould.Melting.With(melting) : Mould.Melting,
                Spread = Own("spread") is { } spread ? Mould.Spread.With(spread) : Mould.Spread,
            },
        };
        // Castings name alloys and sands of this very file too.
        return tables with { Workshop = Workshop.With(file, sourceName, sources, tables) };

        RowReader? Own(string name) => file.Find(name) switch
        {
            null => null,
            TomlMap table => new(sourceName, name, table, sources),
            var other => throw new TableException(sourceName, name, other.Line, $"is {other.Kind}; expected a table [{name}]."),
        };
    }

    private static FoundryTables Load(ImmutableSortedDictionary<string, TomlMap> files)
    {
        var known = SourceRow.Read(new("sources.toml", "table", files["sources"], SourceColumn.None));
        var sources = SourceColumn.BuiltIn(known);
        var alloys = Merged(files["alloys"], "alloys", "alloys.toml", sources, ImmutableArray<Alloy>.Empty, a => a.Key, AlloyReader.Read);
        var cautions = Merged(files["cautions"], "cautions", "cautions.toml", sources, ImmutableArray<Caution>.Empty, c => c.Key, ReadCaution);
        CheckAlloys(alloys, cautions, files["alloys"], "alloys.toml");
        var camber = Whole("camber");
        var rise = camber.Row("camber").Quoted("rise_mm_per_m", 0, 20);
        camber.Finish();
        return new FoundryTables(files)
        {
            Sources = known,
            Alloys = alloys,
            Sands = Merged(files["sands"], "sands", "sands.toml", sources, ImmutableArray<Sand>.Empty, s => s.Key, SandReader.Read),
            Cautions = cautions,
            Draft = DraftTable.Read(Whole("draft")),
            Machining = MachiningTables.Read(Whole("machining")),
            Rapping = Foundry.Rapping.Read(Whole("rapping")),
            Camber = rise,
            Dowels = DowelTable.Read(Whole("dowels")),
            Handling = HandlingTable.Read(Whole("handling")),
            Fillets = FilletTable.Read(Whole("fillets")),
            Joint = JointTable.Read(Whole("joint")),
            Letters = LetterTable.Read(Whole("letters")),
            DrawCheck = DrawTable.Read(Whole("draw")),
            Lying = LyingTable.Read(Whole("lying")),
            Plates = PlateTable.Read(Whole("plates")),
            Coupons = CouponTable.Read(Whole("coupon")),
            Loose = LooseTable.Read(Whole("loose")),
            Originals = OriginalTable.Read(Whole("originals")),
            Cores = CoreTable.Read(Whole("cores")),
            Gating = GatingTableReader.Read(Whole("gating")),
            BedCuts = BedCutTable.Read(Whole("bedcuts")),
            Filling = FillingTable.Read(Whole("filling")),
            Feeding = FeedingTable.Read(Whole("feeding")),
            Mould = MouldTables.Read(Whole),
        };

        RowReader Whole(string name) => files[name] is { Origin: { } shop } changed
            ? new(shop.File, $"tables.{name}", changed, shop.Sources)
            : new($"{name}.toml", "table", files[name], sources);
    }

    private static ImmutableArray<T> Merged<T>(
        TomlMap file,
        string section,
        string sourceName,
        SourceColumn sources,
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
            var reader = new RowReader(sourceName, name, row, sources);
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

    private static ImmutableSortedDictionary<string, TomlMap> BuiltIn()
    {
        var program = Assembly.GetExecutingAssembly();
        return program.GetManifestResourceNames().Where(n => n.EndsWith(".toml", StringComparison.Ordinal)).ToImmutableSortedDictionary(n => n[..^5], Embedded, StringComparer.Ordinal);

        TomlMap Embedded(string name)
        {
            using var reader = new StreamReader(program.GetManifestResourceStream(name)!);
            return TomlDocument.Parse(reader.ReadToEnd(), name);
        }
    }
}
