namespace PatternKit.Sheets;

/// <summary>A file of a kit, not yet on the disk.</summary>
/// <param name="Name">File name within the folder of the kit; no path.</param>
/// <param name="Content">The bytes; the same kit always gives the same.</param>
public sealed record KitFile(string Name, byte[] Content);
