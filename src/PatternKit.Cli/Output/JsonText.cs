using System.Text.Encodings.Web;
using System.Text.Json;

namespace PatternKit.Cli.Output;

/// <summary>JSON for scripts: indented, letters beyond ASCII as they are, units in the keys.</summary>
internal static class JsonText
{
    private static readonly JsonSerializerOptions Options = new()
    {
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
    };

    /// <summary>The text of a value made of dictionaries, lists, text and numbers.</summary>
    public static string Of(object value) => JsonSerializer.Serialize(value, Options);
}
