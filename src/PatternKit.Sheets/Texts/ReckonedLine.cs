using PatternKit.Foundry;

namespace PatternKit.Sheets.Texts;

/// <summary>One figure of a reckoning: of gating, of filling, or of what else is needed to pour.</summary>
/// <param name="Key">For scripts, with the unit in it.</param>
/// <param name="Label">For people.</param>
/// <param name="Value">In the unit of the key.</param>
/// <param name="Unit">For people.</param>
/// <param name="Rule">What was applied; empty where the label says it.</param>
/// <param name="Source">Where the rule comes from; empty when given.</param>
public sealed record ReckonedLine(string Key, string Label, double Value, string Unit, string Rule, string Source)
{
    /// <summary>A value that tells its own rule and source.</summary>
    internal static ReckonedLine Of(string key, string label, string unit, Sourced<double> value) => new(key, label, value.Value, unit, value.Rule, value.Source);

    /// <summary>A value of a table, with the rule that it is used by.</summary>
    internal static ReckonedLine Of(string key, string label, string unit, Quoted value, string rule = "") => new(key, label, value.Value, unit, rule, value.From.Text);
}
