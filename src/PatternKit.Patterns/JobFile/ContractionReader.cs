namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Reads <c>contraction</c>: "auto", "none", or a ratio to the casting ("1.3 %", "13 mm/m", "5/32 in/ft"), as on a
/// contraction rule: pattern = casting × (1 + s). A pattern for a metal pattern has two:
/// <c>{ casting = "auto", master = "1.3 %" }</c>. A bare number is refused, since 1.3 and 0.013 are both in use.
/// </summary>
internal static class ContractionReader
{
    // No metal of the tables contracts more than 3 %; a tenth is a slip of the pen.
    private const double Largest = 0.1;
    private const string Example = "\"1.3 %\", \"13 mm/m\", \"5/32 in/ft\", \"auto\" or \"none\"";

    /// <summary>Contraction of the casting (null by rule) and of a metal master pattern (0 for none).</summary>
    public static (double? Casting, double Master) Read(JobText text, TomlEntry? entry)
    {
        if (entry is null) return (null, 0);
        if (entry.Value is not TomlTable table) return (Ratio(text, entry.Value, "contraction"), 0);
        var section = Section.Open(text, table, "contraction", ["casting", "master"]);
        var casting = section["casting"] is { } c ? Ratio(text, c.Value, "casting of contraction") : null;
        if (section["master"] is not { } m) return (casting, 0);
        return Ratio(text, m.Value, "master of contraction") is { } master
            ? (casting, master)
            : throw text.Refuse(m.Value.Line, "master cannot be \"auto\", since the job does not say which metal the pattern is cast in; write such as master = \"1.3 %\".");
    }

    private static double? Ratio(JobText text, TomlNode node, string what)
    {
        if (Values.Is(node, "auto")) return null;
        if (Values.Is(node, "none")) return 0;
        if (node is TomlNumber) throw text.Refuse(node.Line, $"{what} = {node.Quoted} could be a percentage or a fraction; write it with its unit: {Example}.");
        if (node is not TomlText t) throw text.Refuse(node.Line, $"{what} is {node.Kind}; write {Example}.");
        if (!Quantity.TryParse(t.Value, out var quantity, out var problem)) throw text.Refuse(node.Line, $"{what} = {node.Quoted} {problem} For a contraction write {Example}.");
        if (quantity.Dimension != Dimension.Ratio) throw text.Refuse(node.Line, $"{what} = {node.Quoted} is not a ratio; write {Example}.");
        return quantity.Value is >= 0 and <= Largest
            ? quantity.Value
            : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is out of range: from 0 to 10 %. Metals contract by 0.5 to 2.6 %.");
    }
}
