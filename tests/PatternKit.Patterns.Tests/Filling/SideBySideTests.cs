using System.Globalization;
using PatternKit.Patterns.Filling;
using PatternKit.Patterns.Gating;
using PatternKit.Patterns.Tests.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Filling;

/// <summary>The README's table of one fin poured in two metals, flat and on edge, is what the product reckons.</summary>
public class SideBySideTests
{
    /// <summary>Rows of the table under the line that tells its columns.</summary>
    private static string[][] Rows()
    {
        var folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "PatternKit.sln"))) folder = Path.GetDirectoryName(folder) ?? throw new DirectoryNotFoundException("The tests run outside the repository.");
        return [.. File.ReadLines(Path.Combine(folder, "README.md")).SkipWhile(l => !l.StartsWith("| poured | metal | fills in |", StringComparison.Ordinal)).Skip(2).TakeWhile(l => l.StartsWith('|')).Select(l => l.Trim('|', ' ').Split(" | "))];
    }

    // The fin is that of the text above the table: 2.5 mm thick, 12 mm high, 90 mm out from a boss of 14 mm, 60 mm long and 30 mm high, in green sand.
    private static FillingPlan Poured(string how, string alloy, out GatingPlan gating)
    {
        var asked = how switch
        {
            "flat, at the boss" => new GatingSettings(At_mm: new(-30, -20), Ingates: 1),
            "flat, both ends" => new GatingSettings { Where = GatedAt.BothEnds },
            "on edge" => new GatingSettings { OnEdge = true },
            "on edge, both ends" => new GatingSettings { OnEdge = true, Where = GatedAt.BothEnds },
            _ => throw new ArgumentException(how, nameof(how)),
        };
        var kit = KitCheck.Build(Jobs.Of(Jobs.Block(-60, -7, 0, 7, 0, 30, name: "boss"), Jobs.Block(-10, -1.25, 90, 1.25, 0, 12, name: "fin")) with { Alloy = alloy, Sand = "green", Gating = asked });
        gating = kit.Gating!;
        return kit.Filling!;
    }

    [Fact]
    public void The_table_of_the_README_is_what_is_reckoned()
    {
        var rows = Rows();
        Assert.Equal(8, rows.Length);
        foreach (var row in rows)
        {
            var filling = Poured(row[0], row[1], out var gating);
            var (r, worst) = (gating.Reckoning, filling.Worst);
            string Fixed(double value, int digits, string unit = "") => (value.ToString("F" + digits.ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture) + " " + unit).TrimEnd();
            var verdict = worst.Worst > filling.Table.Risk.High ? "likely not" : worst.Worst > filling.Table.Risk.Doubtful ? "doubtful" : "yes";
            string[] reckoned =
            [
                row[0], row[1], Fixed(filling.FillTime_s, 2, "s"), Fixed(r.EffectiveHead_mm.Value, 0, "mm"), Fixed(r.IngateVelocity_m_s, 2, "m/s"),
                Fixed(worst.Front, 2), Fixed(worst.Choked, 2), Fixed(worst.Head, 2), Fixed(gating.Metal.Poured_kg, 2, "kg"), verdict,
            ];
            Assert.Equal(reckoned, row);
        }
    }

    // Which way the answers go when metal or position changes: aluminium weighs a third and carries less heat, so that its tip is chilled more; on edge there is more head over the ingates.
    [Fact]
    public void Metal_and_position_change_the_table_the_right_way()
    {
        var rows = Rows().ToDictionary(r => (r[0], r[1]), r => r[2..9].Select(c => double.Parse(c.Split(' ')[0], CultureInfo.InvariantCulture)).ToArray());
        foreach (var how in new[] { "flat, at the boss", "on edge" }) Assert.True(rows[(how, "AlSi7Mg")][3] > rows[(how, "CuSn10Zn2")][3]);
        foreach (var alloy in new[] { "AlSi7Mg", "CuSn10Zn2" })
        {
            Assert.True(rows[("on edge", alloy)][1] > rows[("flat, at the boss", alloy)][1]);
            Assert.True(rows[("on edge", alloy)][3] < rows[("flat, at the boss", alloy)][3]);
        }

        Assert.All(rows.Keys.Where(k => k.Item2 == "AlSi7Mg"), k => Assert.True(rows[k][6] < rows[(k.Item1, "CuSn10Zn2")][6]));
    }
}
