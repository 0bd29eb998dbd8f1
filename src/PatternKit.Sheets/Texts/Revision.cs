using System.Security.Cryptography;
using System.Text;
using PatternKit.Patterns;

namespace PatternKit.Sheets.Texts;

/// <summary>
/// The revision of a kit: the first twelve hexadecimal digits of the SHA-256 of names and hashes of its inputs. It takes the
/// place of a date: sheets made from the same inputs carry the same revision.
/// </summary>
internal static class Revision
{
    public static string Of(Job job)
    {
        var list = string.Concat(job.Inputs.Select(i => $"{i.Sha256}  {CleanText.FileName(i.Name)}\n"));
        return Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(list)))[..12];
    }
}
