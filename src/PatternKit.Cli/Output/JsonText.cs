using System.Diagnostics.CodeAnalysis;
using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Cli.Output;

/// <summary>JSON for scripts: indented, letters beyond ASCII as they are, units in the keys. Built of nodes, since a program compiled ahead of time cannot look up the members of a type.</summary>
internal static class JsonText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The text of a value.</summary>
    public static string Of(JsonNode value) => value.ToJsonString(Options);

    /// <summary>A list of objects or lists; null for none.</summary>
    [return: NotNullIfNotNull(nameof(items))]
    public static JsonArray? List(IEnumerable<JsonNode>? items) => items is null ? null : [.. items];

    /// <summary>A list of words.</summary>
    public static JsonArray Words(IEnumerable<string> items) => List(items.Select(i => (JsonNode)i));

    /// <summary>A list of numbers.</summary>
    public static JsonArray Row(params IEnumerable<double> items) => List(items.Select(i => (JsonNode)i));

    /// <summary>Coordinates.</summary>
    public static JsonArray Row(Vec3 v) => Row(v.X, v.Y, v.Z);
}
