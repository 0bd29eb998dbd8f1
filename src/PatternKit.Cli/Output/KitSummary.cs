using System.Globalization;
using PatternKit.Foundry;
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

        var castings = kit.CastingsInWords(kg => $"{FindingText.Number(kg)} kg") + (kit.CastingCount == 1 ? "" : ", together");
        to.WriteLine($"  {castings} {FindingText.Number(kit.Metal.Casting_kg)} kg, to pour {FindingText.Number(kit.Metal.Pour_kg)} kg");
        if (kit.Pouring is { } pour)
        {
            var held = pour.Thrust is { } t ? string.Create(CultureInfo.InvariantCulture, $"side thrust {t.Metal_N:0} N: clamps {t.Clamps_N:0} N") : Held(pour.Balance!);
            static string Held(CopeBalance b) => string.Create(CultureInfo.InvariantCulture, $"lift {b.Lift_N:0} N: ") + (b.Added_N > 0 ? string.Create(CultureInfo.InvariantCulture, $"weights {b.Weights_kg:0.0} kg") : "no weights needed");
            to.WriteLine(string.Create(CultureInfo.InvariantCulture, $"  flask {pour.Flask.Inside.X_mm:0.#} × {pour.Flask.Inside.Y_mm:0.#} mm, cope {pour.Flask.TakenCope_mm:0.#}, drag {pour.Flask.TakenDrag_mm:0.#} mm; {pour.Sand.Total_kg:0.#} kg of sand; melt {pour.Melt.Metal.Melt_kg:0.##} kg; {held}"));
        }

        FindingText.Write(to, kit.Job.Notes);
        FindingText.Write(to, kit.Findings);
    }
}
