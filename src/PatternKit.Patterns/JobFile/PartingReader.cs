using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads [parting]: where the part parts, and what the joint is made as.</summary>
internal static class PartingReader
{
    private const string Example = "[parting] once, with its keys below it";

    /// <summary>Steps that slope more gently than this are hills, degrees from the draw.</summary>
    private const double MostStepDraft_deg = 60;

    /// <summary>The settings; those that only meshes can have are refused for outlines.</summary>
    /// <param name="text">The job.</param>
    /// <param name="entry">The table; null where it is left out.</param>
    /// <param name="isMesh">Whether the part is a mesh.</param>
    /// <param name="outlines">For regions that are drawn.</param>
    public static PartingSettings Read(JobText text, TomlEntry? entry, bool isMesh, OutlineReader outlines)
    {
        if (entry is null) return new();
        var s = isMesh
            ? Section.Open(text, entry, "[parting]", ["at", "match", "recess", "joint", "levels", "step_draft", "follow_board"], Example)
            : Section.Open(text, entry, "[parting]", ["at", "match"], Example, Later.PartingKeys);
        var toSand = isMesh && s["recess"] is { } recess && Values.Word(text, recess, "fill", "sand") == "sand";
        double? at = s["at"] is { } a && !Values.Is(a.Value, "auto")
            ? Values.Length(text, a.Value, "at of [parting]", -PartReader.LargestHeight_mm, PartReader.LargestHeight_mm)
            : null;
        var joint = !isMesh || s["joint"] is not { } j ? JointKind.Flat : Values.Word(text, j, "flat", "carved", "stepped") switch
        {
            "carved" => JointKind.Carved,
            "stepped" => JointKind.Stepped,
            _ => JointKind.Flat,
        };
        if (toSand && joint != JointKind.Flat)
            throw text.Refuse(s["recess"]!.Line, $"recess = \"sand\" goes with a flat joint: what lies behind a {(joint == JointKind.Carved ? "carved" : "stepped")} one is filled. Write recess = \"fill\", or joint = \"flat\".");
        if (joint != JointKind.Stepped && (s["levels"] ?? s["step_draft"]) is { } stray)
            throw text.Refuse(stray.Line, $"\"{stray.Key}\" goes with joint = \"stepped\". Write that, or take {stray.Key} out.");
        var board = isMesh ? Board(text, s["follow_board"]) : null;
        if (board is not null && joint == JointKind.Flat)
            throw text.Refuse(s["follow_board"]!.Line, "a follow board is for a joint that is carved or stepped: a flat one is rammed on a flat board. Take follow_board out, or write joint = \"carved\".");
        var settings = new PartingSettings(at, s["match"] is { } m && Values.Flag(text, m), joint) { RecessToSand = toSand, FollowBoard = board };
        if (joint != JointKind.Stepped) return settings;
        var levels = s["levels"] ?? throw text.Refuse(s["joint"]!.Line, "joint = \"stepped\" needs levels, the regions of the plan and the heights of the joint over them, such as levels = [{ shape = { rectangle = [60, 80], at = [40, 0] }, z = 25 }].");
        if (at is not { } around) throw text.Refuse(s["at"]?.Line ?? s["joint"]!.Line, "joint = \"stepped\" needs at, the height of the joint outside its levels, such as at = 0.");
        return settings with
        {
            Levels = new LevelReader(text, outlines).Read(levels, around),
            StepDraft = s["step_draft"] is { } step && !Values.Is(step.Value, "auto") ? Values.Angle(text, step.Value, "step_draft", 0, MostStepDraft_deg) : null,
        };
    }

    private static MouldHalf? Board(JobText text, TomlEntry? entry) => entry is null ? null : Values.Word(text, entry, "none", "drag", "cope") switch
    {
        "drag" => MouldHalf.Drag,
        "cope" => MouldHalf.Cope,
        _ => null,
    };
}
