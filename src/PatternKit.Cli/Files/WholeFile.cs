using PatternKit.Exchange;

namespace PatternKit.Cli.Files;

/// <summary>Reads a file that the user names on the command line, whole, up to a size.</summary>
internal static class WholeFile
{
    /// <summary>The bytes.</summary>
    /// <exception cref="InputException">There is none, it cannot be read, or it is larger than the limit.</exception>
    public static byte[] Read(string path, int limit_MB)
    {
        try
        {
            if (!File.Exists(path)) throw new InputException(path, "", "there is no such file; check the name and the folder.");
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
            using var all = new MemoryStream();
            var buffer = new byte[81920];
            // By what comes: a device or a growing file has no length.
            for (int n; (n = stream.Read(buffer)) > 0; all.Write(buffer, 0, n))
                if (all.Length + n > (long)limit_MB << 20)
                    throw new InputException(path, "", $"it is larger than {limit_MB} MB; reduce it.");
            return all.ToArray();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            throw new InputException(path, "", $"it cannot be read: {e.Message}");
        }
    }
}
