using System.Collections.Immutable;
using PatternKit.Exchange;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Kits;

namespace PatternKit.Patterns.Filling;

/// <summary>One way to gate and pour a casting, reckoned as a job of its own would be.</summary>
/// <param name="Name">In words.</param>
/// <param name="Keys">What to write under [gating] for it; empty for the job as it is.</param>
/// <param name="IsTaken">Whether the job is poured so.</param>
/// <param name="Gating">Its gating; null where it cannot be.</param>
/// <param name="Filling">How it fills; null with that, or where the heat of the metal is not known.</param>
/// <param name="Why">Why it cannot be; empty where it can.</param>
public sealed record PouringWay(string Name, string Keys, bool IsTaken, GatingPlan? Gating, FillingPlan? Filling, string Why)
{
    /// <summary>Whether the job gives a head that does not hold for it, so that it is reckoned with that of its own rule.</summary>
    public bool HasOwnHead { get; init; }
}

/// <summary>The usual ways to gate and pour a casting, side by side: each is the job itself with other words under [gating], through the same code.</summary>
public static class PouringWays
{
    /// <summary>The job as it is, then the ways that differ from it; empty where it wants no gating, or where one runner passes several castings, which leaves no choice.</summary>
    /// <param name="kit">The kit of the job.</param>
    public static ImmutableArray<PouringWay> Of(Kit kit)
    {
        if (kit.Gating is null || kit.Stage is not { Castings.IsEmpty: true } stage) return [];
        var asked = kit.Job.Gating ?? new();
        // Place, number and position are what is compared; the rest stays as the job has it.
        var bare = asked with { At_mm = null, Ingates = null, Where = GatedAt.Rule, OnEdge = false, Up = null };
        (string Name, string Keys, GatingSettings Gating)[] ways =
        [
            ("flat, one end", "at = \"one end\"", bare with { Where = GatedAt.OneEnd }),
            ("flat, both ends", "at = \"both ends\"", bare with { Where = GatedAt.BothEnds }),
            ("flat, from the bottom", "at = \"bottom\"", bare with { Where = GatedAt.Bottom }),
            ("on edge", "pour = \"on edge\"", bare with { OnEdge = true }),
            ("on edge, both ends of the long side", "pour = \"on edge\", at = \"both ends\"", bare with { OnEdge = true, Where = GatedAt.BothEnds }),
        ];
        // A head over the joint is that of every mould that lies flat; one over the ingates of a mould on edge is that of no other, since the casting stands otherwise over them each time.
        bool HasOwnHead(GatingSettings way) => asked.Head_mm is not null && (asked.OnEdge || way.OnEdge);
        return [new("as the job says", "", true, kit.Gating, kit.Filling, ""), .. ways.Where(w => w.Gating != asked).Select(w => Reckoned(w.Name, w.Keys, HasOwnHead(w.Gating) ? w.Gating with { Head_mm = null } : w.Gating) with { HasOwnHead = HasOwnHead(w.Gating) })];

        PouringWay Reckoned(string name, string keys, GatingSettings gating)
        {
            try
            {
                var (plan, filling, _) = stage.Reckon(kit.Job with { Gating = gating });
                return new(name, keys, false, plan, filling, plan is null ? "there is no side to gate" : "");
            }
            catch (InputException e)
            {
                // What the job gives for its own way may not go with another.
                return new(name, keys, false, null, null, e.Message);
            }
        }
    }
}
