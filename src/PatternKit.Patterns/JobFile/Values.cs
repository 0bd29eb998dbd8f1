using System.Globalization;
using PatternKit.Exchange;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>
/// Turns TOML values into lengths (mm), angles (radians), numbers, points, words. Every refusal has the line,
/// what was found, and how to write it.
/// </summary>
internal static class Values
{
    /// <summary>Largest length in a job: beyond what can be moulded by hand; a wrong unit shows here first.</summary>
    public const double LargestLength_mm = 10_000;

    /// <summary>A length in millimetres between limits, both allowed.</summary>
    public static double Length(JobText text, TomlNode node, string what, double low_mm = -LargestLength_mm, double high_mm = LargestLength_mm)
    {
        var value = Read(text, node, what, Dimension.Length, "a length", "12, \"12 mm\" or \"1/2 in\"");
        return value >= low_mm && value <= high_mm
            ? value
            : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is out of range: {RangeText(text, low_mm, high_mm)}.");
    }

    /// <summary>A length greater than zero.</summary>
    public static double Size(JobText text, TomlNode node, string what) => Length(text, node, what, 0.001);

    /// <summary>An angle in radians; the limits are degrees, both allowed.</summary>
    public static double Angle(JobText text, TomlNode node, string what, double low_deg = -360, double high_deg = 360)
    {
        var degrees = Read(text, node, what, Dimension.Angle, "an angle", "2, \"2 deg\" or \"0.5 rad\"");
        return degrees >= low_deg && degrees <= high_deg
            ? degrees * (Math.PI / 180)
            : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is out of range: from {Number(low_deg)} to {Number(high_deg)} degrees.");
    }

    /// <summary>A number without a unit.</summary>
    public static double Plain(JobText text, TomlNode node, string what, double low, double high)
    {
        if (node is not TomlNumber number) throw text.Refuse(node.Line, $"{what} is {node.Kind}; write a number without quotes.");
        return number.Value >= low && number.Value <= high
            ? number.Value
            : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is out of range: from {Number(low)} to {Number(high)}.");
    }

    /// <summary>A whole number.</summary>
    public static int Count(JobText text, TomlNode node, string what, int low, int high)
    {
        var value = Plain(text, node, what, low, high);
        return value == Math.Floor(value) ? (int)value : throw text.Refuse(node.Line, $"{what} = {node.Quoted} is not a whole number.");
    }

    /// <summary>true or false.</summary>
    public static bool Flag(JobText text, TomlEntry entry) =>
        entry.Value is TomlFlag flag ? flag.Value : throw text.Refuse(entry.Value.Line, $"{entry.Key} is {entry.Value.Kind}; write true or false without quotes.");

    /// <summary>Text of one line, not empty.</summary>
    public static string Line(JobText text, TomlEntry entry, int longest)
    {
        if (entry.Value is not TomlText t) throw text.Refuse(entry.Value.Line, $"{entry.Key} is {entry.Value.Kind}; write text in quotes.");
        if (string.IsNullOrWhiteSpace(t.Value)) throw text.Refuse(entry.Value.Line, $"{entry.Key} is empty; write it or leave the key out.");
        if (t.Value.Length > longest) throw text.Refuse(entry.Value.Line, $"{entry.Key} has {t.Value.Length} characters; at most {longest}.");
        return t.Value.Any(char.IsControl)
            ? throw text.Refuse(entry.Value.Line, $"{entry.Key} has a line break or control character; write it in one line.")
            : t.Value.Trim();
    }

    /// <summary>One of a few words.</summary>
    public static string Word(JobText text, TomlEntry entry, params string[] words)
    {
        var value = entry.Value is TomlText t ? t.Value : throw text.Refuse(entry.Value.Line, $"{entry.Key} is {entry.Value.Kind}; write one of: \"{string.Join("\", \"", words)}\".");
        return words.Contains(value)
            ? value
            : throw text.Refuse(entry.Value.Line, $"{entry.Key} = {entry.Value.Quoted} is unknown.{Nearest.Hint(value, words)}");
    }

    /// <summary>Whether the value is this word.</summary>
    public static bool Is(TomlNode node, string word) => node is TomlText t && t.Value == word;

    /// <summary>A point of the plan, mm.</summary>
    public static Vec2 Point(JobText text, TomlNode node, string what)
    {
        var items = Items(text, node, what, 2, 2, "[x, y]");
        return new(Length(text, items[0], $"x of {what}"), Length(text, items[1], $"y of {what}"));
    }

    /// <summary>A point in space, mm.</summary>
    public static Vec3 Point3(JobText text, TomlNode node, string what)
    {
        var items = Items(text, node, what, 3, 3, "[x, y, z]");
        return new(Length(text, items[0], $"x of {what}"), Length(text, items[1], $"y of {what}"), Length(text, items[2], $"z of {what}"));
    }

    /// <summary>The items of a list of limited length.</summary>
    public static IReadOnlyList<TomlNode> Items(JobText text, TomlNode node, string what, int fewest, int most, string example)
    {
        if (node is not TomlList { OfHeaders: false } list) throw text.Refuse(node.Line, $"{what} is {node.Kind}; write {example}.");
        return list.Items.Length >= fewest && list.Items.Length <= most
            ? list.Items
            : throw text.Refuse(node.Line, $"{what} has {list.Items.Length} items; {(fewest == most ? $"{fewest} are wanted" : $"from {fewest} to {most} can be")}: write {example}.");
    }

    /// <summary>A number for a message.</summary>
    public static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);

    /// <summary>A length for a message, in the job's unit.</summary>
    public static string LengthText(JobText text, double mm) =>
        text.Unit == LengthUnit.Inch ? $"{Number(mm / 25.4)} in" : $"{Number(mm)} mm";

    private static string RangeText(JobText text, double low_mm, double high_mm) =>
        $"from {LengthText(text, low_mm)} to {LengthText(text, high_mm)}";

    private static double Read(JobText text, TomlNode node, string what, Dimension wanted, string name, string example)
    {
        double value;
        switch (node)
        {
            case TomlNumber number:
                if (!double.IsFinite(number.Value)) throw text.Refuse(node.Line, $"{what} = {node.Quoted} is not a finite number; write such as {example}.");
                value = Bare(text, number, wanted);
                break;
            case TomlText t:
                if (!Quantity.TryParse(t.Value, out var quantity, out var problem)) throw text.Refuse(node.Line, $"{what} = {node.Quoted} {problem}");
                if (quantity.Dimension == Dimension.Bare) value = wanted == Dimension.Length && text.Unit == LengthUnit.Inch ? Inches(t.Value, quantity.Value) : quantity.Value;
                else if (quantity.Dimension == wanted) value = quantity.Value;
                else throw text.Refuse(node.Line, $"{what} = {node.Quoted} is {Name(quantity.Dimension)}, but {name} is wanted; write such as {example}.");
                break;
            default:
                throw text.Refuse(node.Line, $"{what} is {node.Kind}, but {name} is wanted; write such as {example}.");
        }

        return value;
    }

    // The written decimal is scaled, not its binary neighbour, so that 1.1 (in) is 27.94 mm to the last bit.
    private static double Bare(JobText text, TomlNumber number, Dimension wanted) =>
        wanted == Dimension.Length && text.Unit == LengthUnit.Inch ? Inches(number.Written, number.Value) : number.Value;

    private static double Inches(string written, double value) =>
        Quantity.TryParse(written + " in", out var exact, out _) ? exact.Value : value * 25.4;

    private static string Name(Dimension dimension) => dimension switch
    {
        Dimension.Length => "a length",
        Dimension.Angle => "an angle",
        Dimension.Ratio => "a ratio",
        _ => "a bare number",
    };
}
