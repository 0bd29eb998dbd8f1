using System.Collections.Immutable;
using PatternKit.Foundry.Reading;

namespace PatternKit.Foundry;

/// <summary>How long castings of some metals stay in the sand.</summary>
/// <param name="Families">The metals.</param>
/// <param name="Minutes_per_25mm">For each 25 mm of the thickest section.</param>
/// <param name="Least_minutes">At least.</param>
/// <param name="From">Where it comes from.</param>
public sealed record ShakeOutRow(ImmutableArray<AlloyFamily> Families, double Minutes_per_25mm, double Least_minutes, Provenance From)
{
    /// <summary>Waiting time, minutes.</summary>
    /// <param name="rows">The table; every family is in one row.</param>
    /// <param name="family">The metal.</param>
    /// <param name="section_mm">Its thickest section.</param>
    /// <param name="solid_s">When that is solid; null where it is not known.</param>
    /// <param name="solidTimes">So many times that at least.</param>
    public static Sourced<double> Wait_minutes(ImmutableArray<ShakeOutRow> rows, AlloyFamily family, double section_mm, double? solid_s, Quoted solidTimes)
    {
        Checked.Positive(section_mm, nameof(section_mm));
        var row = rows.First(r => r.Families.Contains(family));
        var byRule = Math.Max(row.Least_minutes, row.Minutes_per_25mm * section_mm / 25);
        if (solidTimes.Value * solid_s / 60 is { } bySolid && bySolid > byRule)
            return new(bySolid, solidTimes.From.Text, $"{Shown.Number(solidTimes.Value)} times the time in which the thickest section, {Shown.Number(Math.Round(section_mm, 1))} mm, is solid, longer than by its thickness alone");
        return new(
            byRule, row.From.Text,
            $"{Shown.Number(row.Minutes_per_25mm)} minutes for each 25 mm of the thickest section, {Shown.Number(Math.Round(section_mm, 1))} mm, and at least {Shown.Number(row.Least_minutes)}");
    }

    internal static ImmutableArray<ShakeOutRow> Read(RowReader file)
    {
        ImmutableArray<ShakeOutRow> rows = [.. file.Rows("wait").Select(r =>
        {
            var names = r.TextsOrNone("families");
            var row = new ShakeOutRow(
                [.. names.Select(n => AlloyReader.FamilyWords.TryGetValue(n, out var f) ? f : throw r.Error($"there is no family '{Shown.Short(n)}'."))],
                r.Number("minutes_per_25mm", 1, 1000), r.Number("least_minutes", 1, 10000), r.Provenance());
            r.Finish();
            return row;
        })];
        foreach (var family in Enum.GetValues<AlloyFamily>())
            if (rows.Count(r => r.Families.Contains(family)) != 1) throw file.Error($"{AlloyReader.Word(family)} is not in exactly one row of 'wait'.");
        return rows;
    }
}
