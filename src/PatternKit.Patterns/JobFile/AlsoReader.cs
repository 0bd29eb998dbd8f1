using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads the [[also]] tables: other parts of the same metal that go into the mould of this job, each from a job file of its own.</summary>
internal static class AlsoReader
{
    private const int Most = 12;

    private const string Example = "job = \"../gland-flange/job.toml\"";

    private static readonly string[] Keys = ["job", "times", "at", "turn"];

    /// <summary>The parts, in the order of the file; none when left out.</summary>
    /// <param name="text">The job file.</param>
    /// <param name="entry">All of the tables.</param>
    /// <param name="main">The job as read so far.</param>
    /// <param name="read">Reads the job at a name as written; its second argument makes the error at the line that names it.</param>
    /// <exception cref="InputException">A job that cannot go into this mould, or places for some castings alone.</exception>
    public static ImmutableArray<OtherPart> Read(JobText text, TomlEntry? entry, Job main, Func<string, Func<string, InputException>, Job> read)
    {
        if (entry is null) return [];
        if (entry.Value is not TomlList { OfHeaders: true } list) throw text.Refuse(entry.Line, "also is written in double brackets, once for every other part: [[also]].");
        if (list.Items.Length > Most) throw text.Refuse(entry.Line, $"the job has {list.Items.Length} [[also]] tables; at most {Most}.");
        var line = list.Items[0].Line;
        if (main.Mesh is not null) throw text.Refuse(line, "[[also]]: a part that is a mesh is moulded by itself in this release; print its pattern and lay it beside others by hand. Take it out.");
        ImpressionReader.CheckSeveral(text, line, "[[also]]", main.Pattern, main.Gating);
        var parts = ImmutableArray.CreateBuilder<OtherPart>();
        foreach (var table in list.Items.Cast<TomlTable>())
        {
            var other = One(text, table, main, read);
            if (parts.Select(p => p.Job.Name).Prepend(main.Name).Contains(other.Job.Name, StringComparer.OrdinalIgnoreCase))
                throw text.Refuse(table.Line, $"two parts of the mould are named \"{other.Job.Name}\", and their features are told by it; write times = 2 for copies, or give one of both folders another name.");
            parts.Add(other);
        }

        // A count leaves its castings to the rule, and so does a table without places.
        var placed = parts.Select(p => !p.At_mm.IsEmpty).ToArray();
        if (main.Impressions is not null) placed = [.. placed, !main.Impressions.At_mm.IsEmpty];
        if (placed.Distinct().Count() > 1)
            throw text.Refuse(line, "[[also]]: some castings of this mould have places and others have none. Give a place to each, at = [x, y] and impressions = [[x, y]], or to none, and they are arranged by rule.");
        var castings = (main.Impressions?.Count ?? 1) + parts.Sum(p => p.Count);
        return castings <= ImpressionReader.Most ? parts.ToImmutable() : throw text.Refuse(line, $"[[also]]: this mould has {castings} castings; at most {ImpressionReader.Most}.");
    }

    private static OtherPart One(JobText text, TomlTable table, Job main, Func<string, Func<string, InputException>, Job> read)
    {
        var s = Section.Open(text, table, "[[also]]", Keys);
        var named = s["job"] ?? throw text.Refuse(table.Line, $"this [[also]] has no job; write such as {Example}, the job file of the other part.");
        var job = read(Values.Line(text, named, 200), problem => text.Refuse(named.Line, $"job of [[also]]: {problem}"));
        if (job.Alloy != main.Alloy)
            throw text.Refuse(named.Line, $"{job.Name} is of {job.Alloy} and this job of {main.Alloy}: one mould is poured with one metal. Make a mould of each, or write the same alloy in both.");
        if (job.Mesh is not null) throw text.Refuse(named.Line, $"{job.Name} is a mesh, and parts of a common mould are outlines in this release. Mould it by itself.");
        if (main.Plate is not null && !job.Loose.IsEmpty) throw text.Refuse(named.Line, $"{job.Name} has loose pieces, which are not made on a plate in this release. Take [plate] out, or mould it by itself.");
        var places = s["at"] is { } at ? Places(text, at) : [];
        var times = s["times"] is { } t ? Values.Count(text, t.Value, "times", 1, ImpressionReader.Most) : Math.Max(1, places.Length);
        if (!places.IsEmpty && places.Length != times) throw text.Refuse(s["times"]!.Line, $"times = {times}, and at has {places.Length} places; leave times out.");
        var turn = s["turn"] is { } way ? Values.Angle(text, way.Value, "turn") : 0;
        if (Math.Abs(Math.IEEERemainder(turn, Math.PI / 2)) > 1e-9 && job.Features.FirstOrDefault(f => f.Turned is { Axis: not Geometry.Columns.TurnedAxis.Z }) is { } lying)
            throw text.Refuse(s["turn"]!.Line, $"turn: \"{lying.Name}\" of {job.Name} is turned about an axis that lies along x or y, and stays so by quarter turns only. Write 90, 180 or 270.");
        if (NotTaken(job, main) is { Length: > 0 } left)
            text.Note(table.Line, $"of {job.Name} its part is taken; {left} of its own {(left.Contains(',', StringComparison.Ordinal) ? "are" : "is")} not: what is common to the mould is that of this job.");
        return new(job, times, places, turn, $"{Path.GetFileName(text.Source)}, line {table.Line}");
    }

    private static ImmutableArray<Vec2> Places(JobText text, TomlEntry at)
    {
        const string example = "at = [120, 0], or at = [[120, 0], [120, 90]]";
        ImmutableArray<Vec2> places = at.Value is TomlList { Items: [TomlList, ..] }
            ? [.. Values.Items(text, at.Value, "at", 1, ImpressionReader.Most, example).Select(i => Values.Point(text, i, "a place of at"))]
            : [Values.Point(text, at.Value, "at")];
        return places.Distinct().Count() == places.Length ? places : throw text.Refuse(at.Line, "at has one place twice; every casting needs its own.");
    }

    /// <summary>What the other job says otherwise than the main one, and what is for a mould of its own.</summary>
    private static string NotTaken(Job other, Job main)
    {
        var (own, common) = (other.Pattern, main.Pattern);
        (string Name, bool Differs)[] all =
        [
            ("sand", other.Sand != main.Sand), ("impressions", other.Impressions is not null),
            ("draft", own.DraftOutside != common.DraftOutside || own.DraftInside != common.DraftInside), ("taper", own.Holds != common.Holds),
            ("contraction", own.Contraction != common.Contraction || own.MasterContraction != common.MasterContraction), ("rapping", own.Rapping_mm != common.Rapping_mm),
            ("camber", own.Camber is { Rise_mm: not 0 }), ("dowels", own.Dowels != common.Dowels || own.DowelDiameter_mm != common.DowelDiameter_mm),
            ("draw screws", own.DrawScrews != common.DrawScrews), ("skin", own.Skin != common.Skin), ("finish", own.Finish_mm != common.Finish_mm),
            ("match", other.Parting.Match != main.Parting.Match), ("gating", other.Gating is not null && other.Gating != main.Gating), ("feeding", other.Feeders != main.Feeders),
            ("cores", other.Cores is not null && other.Cores != main.Cores), ("plate", other.Plate is not null), ("coupon", other.Coupon && !main.Coupon),
        ];
        return string.Join(", ", all.Where(a => a.Differs).Select(a => a.Name));
    }
}
