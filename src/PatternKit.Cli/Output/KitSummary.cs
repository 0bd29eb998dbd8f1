using System.Globalization;
using PatternKit.Patterns.Kits;

namespace PatternKit.Cli.Output;

/// <summary>A kit in a few lines.</summary>
internal static class KitSummary
{
    /// <summary>Writes title, joint, bodies, metal and everything that was found.</summary>
    public static void Write(TextWriter to, Kit kit)
    {
        to.WriteLine($"{kit.Job.Title} ({kit.Job.Name}), {kit.AlloyTitle}, {kit.Job.Sand} sand");
        to.WriteLine($"  parting at z {FindingText.Number(kit.Parting.Height_mm)} mm: {kit.Parting.Reason}");
        foreach (var body in kit.AllBodies)
        {
            var box = body.AsPrinted.Bounds().Size;
            var size = string.Join(" × ", new[] { box.X, box.Y, box.Z }.Select(v => v.ToString("0.0", CultureInfo.InvariantCulture)));
            to.WriteLine($"  {body.Name}: {size} mm, {body.AsPrinted.Facets.Length} triangles, least draft {FindingText.Number(body.LeastDraft * 180 / Math.PI)}°");
        }

        foreach (var core in kit.Cores)
        {
            var force = string.Create(CultureInfo.InvariantCulture, $"{core.Load.Lift_N:0.0} N of lift");
            var bears = string.Create(CultureInfo.InvariantCulture, $"{core.Load.Prints.Sum(p => p.MostLift_N):0.0} N");
            to.WriteLine($"  {core.Name} leaves {core.Title}: {(core.Count == 1 ? "" : $"{core.Count} times, ")}{FindingText.Number(core.Sand_kg)} kg of core sand, {force}, its prints bear {bears}");
        }

        to.WriteLine($"  casting {FindingText.Number(kit.Metal.Casting_kg)} kg, to pour {FindingText.Number(kit.Metal.Pour_kg)} kg");
        FindingText.Write(to, kit.Job.Notes);
        FindingText.Write(to, kit.Findings);
    }
}
