using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads <c>impressions = 2</c>, put in a row by rule, or <c>impressions = [[0, 0], [0, 90]]</c>, the places of the part's origin.</summary>
internal static class ImpressionReader
{
    /// <summary>Most castings of one mould.</summary>
    public const int Most = 24;

    private const string Example = "impressions = 2, or their places: impressions = [[0, 0], [0, 90]]";

    /// <summary>The settings; null for a part that is in the mould once.</summary>
    /// <exception cref="Exchange.InputException">No count and no list of places, or a job that does not go with several.</exception>
    public static ImpressionSettings? Read(JobText text, TomlEntry? entry, bool isMesh, PatternSettings pattern, GatingSettings? gating)
    {
        if (entry is null) return null;
        var where = $"{Path.GetFileName(text.Source)}, line {entry.Line}";
        var asked = entry.Value is TomlList
            ? Places(text, entry, where)
            : new(Values.Count(text, entry.Value, "impressions", 1, Most), [], where);
        if (asked.Count == 1 && asked.At_mm.IsEmpty) return null;
        if (isMesh) throw text.Refuse(entry.Line, "impressions: of a part that is a mesh this release makes one; print its pattern as often as you like. Take it out.");
        CheckSeveral(text, entry.Line, "impressions", pattern, gating);
        return asked;
    }

    /// <summary>Refuses what does not go with several castings in one mould.</summary>
    /// <param name="text">The job file.</param>
    /// <param name="line">Where several are asked for.</param>
    /// <param name="key">By which word.</param>
    /// <param name="pattern">What the job says of the pattern.</param>
    /// <param name="gating">What it says of gating.</param>
    public static void CheckSeveral(JobText text, int line, string key, PatternSettings pattern, GatingSettings? gating)
    {
        if (pattern.Camber is { Rise_mm: not 0 }) throw text.Refuse(line, $"{key}: a camber bows the whole length of a part, and several do not lie on one bow. Take one of both out.");
        if (gating is { OnEdge: true } or { Where: GatedAt.OneEnd or GatedAt.BothEnds })
            throw text.Refuse(line, $"{key}: several castings are poured flat in this release, past the middle of each. Take {key} out, or pour = \"on edge\" and at = \"… end\" out of [gating].");
    }

    private static ImpressionSettings Places(JobText text, TomlEntry entry, string where)
    {
        ImmutableArray<Vec2> at = [.. Values.Items(text, entry.Value, "impressions", 1, Most, Example).Select(i => Values.Point(text, i, "a place of impressions"))];
        return at.Distinct().Count() == at.Length ? new(at.Length, at, where) : throw text.Refuse(entry.Line, "impressions has one place twice; every casting needs its own.");
    }
}
