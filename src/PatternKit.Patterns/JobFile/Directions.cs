using PatternKit.Geometry.Numerics;

namespace PatternKit.Patterns.JobFile;

/// <summary>Reads directions: <c>"+x"</c> … <c>"-z"</c> or <c>[x, y, z]</c>, of any length but 0.</summary>
internal static class Directions
{
    /// <summary>The direction.</summary>
    public static Vec3 Read(JobText text, TomlEntry entry)
    {
        if (entry.Value is TomlText)
        {
            var sign = Values.Word(text, entry, "+x", "-x", "+y", "-y", "+z", "-z");
            var length = sign[0] == '+' ? 1 : -1;
            return sign[1] switch { 'x' => new(length, 0, 0), 'y' => new(0, length, 0), _ => new(0, 0, length) };
        }

        var key = entry.Key;
        var items = Values.Items(text, entry.Value, key, 3, 3, $"{key} = \"-z\" or {key} = [0, 0.5, 1]");
        var v = new Vec3(Plain(0), Plain(1), Plain(2));
        return v.Length > 0 ? v : throw text.Refuse(entry.Value.Line, $"{key} = [0, 0, 0] is no direction; write such as {key} = \"-z\" or {key} = [0, 0.5, 1].");

        double Plain(int i) => Values.Plain(text, items[i], key, -1e6, 1e6);
    }
}
