using System.Collections.Immutable;
using System.Text;
using PatternKit.Exchange;

namespace PatternKit.Patterns.JobFile;

/// <summary>Keys of the trade tables that a job may name; an empty list is not checked.</summary>
/// <param name="Alloys">Keys of the alloy table.</param>
/// <param name="Sands">Keys of the sand table.</param>
public sealed record KnownKeys(IReadOnlyCollection<string> Alloys, IReadOnlyCollection<string> Sands)
{
    /// <summary>Keys of alloys with what they are called in words, for those who write "bronze".</summary>
    public ImmutableArray<(string Key, string Title)> AlloyTitles { get; init; } = [];

    /// <summary>Nothing is checked.</summary>
    public static KnownKeys Unchecked { get; } = new([], []);
}

/// <summary>
/// Reads a job file (TOML) and the drawings it names into a <see cref="Job"/>: units resolved, loops closed and
/// checked, nothing decided.
/// </summary>
public static class JobReader
{
    /// <summary>The sand taken, with a note, when the job names none.</summary>
    public const string UsualSand = "oil-bonded";

    private static readonly string[] Keys = ["title", "unit", "alloy", "sand", "acknowledged", "original", "coupon", "part", "loose", "impressions", "also", "parting", "pattern", "gating", "feeding", "cores", "plate", "sheet", "measure"];

    /// <summary>Reads a job.</summary>
    /// <param name="jobPath">The TOML file; drawings are looked for in its folder and below.</param>
    /// <param name="known">Alloys and sands that may be named; not checked when left out.</param>
    /// <exception cref="InputException">The job or a drawing cannot be used: file, line, what was found, what to do.</exception>
    public static Job Read(string jobPath, KnownKeys? known = null) =>
        Read(jobPath, known ?? KnownKeys.Unchecked, new InputFiles(Path.GetDirectoryName(Path.GetFullPath(jobPath)) ?? "/"), isBeside: false);

    /// <summary>Reads a job, or one that another lists: that lists none, so that no chain of jobs is followed.</summary>
    private static Job Read(string jobPath, KnownKeys known, InputFiles files, bool isBeside)
    {
        var text = new JobText(jobPath);
        var root = Section.Open(text, TomlDocument.Parse(Decode(files.Job(jobPath), jobPath), jobPath), "the job", Keys, Later.Tables);

        text.Unit = Unit(text, root["unit"]);
        var name = JobName.Of(jobPath);
        var title = root["title"] is { } t ? Values.Line(text, t, 200) : name;
        var alloy = root["alloy"] is { } a
            ? Key(text, a, known.Alloys, "alloys", known.AlloyTitles)
            : throw text.Refuse(0, "the job names no alloy; write such as alloy = \"AlSi7Mg\" (\"patternkit alloys\" lists them).");
        var sand = Sand(text, root["sand"], known.Sands);
        var acknowledged = Acknowledged(text, root["acknowledged"]);
        var meshes = new MeshPartReader(text, files);
        var mesh = meshes.Read(root["part"]);
        var outlines = new OutlineReader(text, files);
        var features = mesh is null ? new PartReader(text, outlines).Read(root["part"]) : [];
        var parting = PartingReader.Read(text, root["parting"], mesh is not null, outlines);
        var pattern = PatternReader.Read(text, root["pattern"], features, mesh);
        var original = root["original"] is { } o && Values.Flag(text, o);
        if (original && mesh is null) throw text.Refuse(root["original"]!.Line, "original = true is for a job whose [[part]] is a mesh: of outlines there is no part at hand to mould. Take it out.");
        if (mesh is not null) meshes.Check(root, pattern, parting, original);
        var gating = GatingReader.Read(text, root["gating"]);
        var feeders = root["feeding"] is not { } feeding || Values.Word(text, feeding, "auto", "none") == "auto";
        var cores = CoreReader.Read(text, root["cores"], mesh, original);
        var coupon = root["coupon"] is { } c && Values.Flag(text, c);
        if (coupon && original) throw text.Refuse(root["coupon"]!.Line, "coupon = true goes with a pattern that is printed, and here the part itself is the pattern. Take it out.");
        var projection = SheetReader.Projection(text, root["sheet"]);
        var plate = PlateReader.Read(text, root["plate"], mesh is not null);
        var impressions = ImpressionReader.Read(text, root["impressions"], mesh is not null, pattern, gating);
        var loose = new LooseReader(text, outlines).Read(root["loose"], mesh is not null, plate is not null);
        var measures = MeasureReader.Read(text, root["measure"]);
        var job = new Job(name, title, text.Unit, alloy, sand, features, parting, pattern, measures, Named(files.Read, jobPath), text.Notes, acknowledged, gating) { Mesh = mesh, Original = original, Coupon = coupon, Loose = loose, Plate = plate, Impressions = impressions, Cores = cores, Feeders = feeders, Projection = projection };
        if (isBeside && root["also"] is { } further)
            throw text.Refuse(further.Line, "this job is itself listed by [[also]] of another, and lists further parts. List them all in the one job that the mould is made from.");
        var others = AlsoReader.Read(text, root["also"], job, Beside);
        return others.IsEmpty ? job : job with
        {
            Others = others,
            Inputs = [.. job.Inputs, .. others.SelectMany(o => o.Job.Inputs.Select(i => i with { Name = $"{o.Job.Name}/{i.Name}" }))],
            Notes = [.. text.Notes, .. others.SelectMany(o => o.Job.Notes)],
        };

        Job Beside(string named, Func<string, InputException> refuse) =>
            Read(Path.Combine(Path.GetDirectoryName(jobPath) ?? "", named), known, files.Beside(named, refuse), isBeside: true);
    }

    private static string Decode(byte[] content, string jobPath)
    {
        try
        {
            var skip = content.AsSpan().StartsWith("\uFEFF"u8) ? 3 : 0;
            return new UTF8Encoding(false, true).GetString(content, skip, content.Length - skip);
        }
        catch (DecoderFallbackException e)
        {
            throw new InputException(jobPath, $"byte {e.Index}", "the file is not UTF-8 text; save it as UTF-8.");
        }
    }

    private static LengthUnit Unit(JobText text, TomlEntry? entry)
    {
        if (entry is not null) return Values.Word(text, entry, "mm", "in") == "in" ? LengthUnit.Inch : LengthUnit.Millimetre;
        text.Note(0, "no unit is given; bare lengths are taken as millimetres.");
        return LengthUnit.Millimetre;
    }

    private static string Sand(JobText text, TomlEntry? entry, IReadOnlyCollection<string> known)
    {
        if (entry is not null) return Key(text, entry, known, "sands", []);
        text.Note(0, $"no sand is given; \"{UsualSand}\" is taken.");
        return UsualSand;
    }

    private static ImmutableSortedSet<string>? Acknowledged(JobText text, TomlEntry? entry)
    {
        if (entry is null) return null;
        string[] codes = [Finding.HazardousAlloy];
        var items = Values.Items(text, entry.Value, entry.Key, 0, codes.Length, $"acknowledged = [\"{codes[0]}\"]");
        foreach (var item in items)
            if (!codes.Any(c => Values.Is(item, c)))
                throw text.Refuse(item.Line, $"acknowledged holds {item.Quoted}, which is not a finding that a job can acknowledge. Known here: {string.Join(", ", codes)}.");
        return items.Count == 0 ? null : [.. items.Cast<TomlText>().Select(t => t.Value)];
    }

    private static string Key(JobText text, TomlEntry entry, IReadOnlyCollection<string> known, string command, ImmutableArray<(string Key, string Title)> titles)
    {
        var key = Values.Line(text, entry, 60);
        if (known.Count == 0 || known.Contains(key)) return key;
        string[] words = [.. key.Split([' ', '-', ',', '(', ')'], StringSplitOptions.RemoveEmptyEntries)];
        string[] meant = [.. titles.Where(t => words.Length > 0 && words.All(w => t.Title.Contains(w, StringComparison.OrdinalIgnoreCase))).Select(t => t.Key).Take(6)];
        if (meant.Length == 0) meant = [Nearest.To(key, [.. known])!];
        throw text.Refuse(entry.Value.Line, $"{entry.Key} = {entry.Value.Quoted} is not in the table. Did you mean {string.Join(" or ", meant.Select(m => $"\"{m}\""))}? \"patternkit {command}\" lists them.");
    }

    // Kits are compared between machines: the job is listed by its file name, drawings as the job names them.
    private static ImmutableArray<InputFile> Named(ImmutableArray<InputFile> read, string jobPath) =>
        [read[0] with { Name = Path.GetFileName(jobPath) }, .. read.Skip(1)];
}
