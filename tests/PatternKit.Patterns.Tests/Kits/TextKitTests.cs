using PatternKit.Exchange.Lettering;
using PatternKit.Geometry.Numerics;
using PatternKit.Geometry.Plan;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.JobFile;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>Letters on their way to the halves: which way round, how much metal, how fine.</summary>
public sealed class TextKitTests
{
    private const string Words = "PUMP No 2";
    private const double Size = 8, Deep = 0.8;
    private const string Plate = "[[part]]\nname = \"plate\"\nshape = { rectangle = [100, 40], at = [50, 20] }\nz = [0, 12]\n";

    private static readonly LetteredLine Set = LetterOutlines.Of(Words, Size, Size * LetterOutlines.ChordOfHeight);

    [Theory]
    [InlineData("z = [12, 12.8]", 12.79, false, 0)]
    [InlineData("z = [-0.8, 0]", -0.79, true, 0)]
    [InlineData("z = [12, 12.8]\nturn = 20", 12.79, false, 20)]
    [InlineData("z = [-0.8, 0]\nturn = 20", -0.79, true, 20)]
    public void Raised_text_reads_from_outside_on_either_half(string keys, double level_mm, bool mirrored, double turn_deg)
    {
        var kit = Kit(keys);
        KitCheck.Sound(kit);
        var section = (mirrored ? kit.Drag() : kit.Cope()).Section(level_mm);
        // A tenth of a millimetre below the tips, letters are wider by 0.1·tan 2° all round, and a lattice step.
        var slack = Set.Region.Geometry.Length * 0.001;
        Assert.InRange(Apart(section, Placed(mirrored, turn_deg)), 0, slack);
        Assert.True(Apart(section, Placed(!mirrored, turn_deg)) > 0.3 * Set.Region.Area);
    }

    [Theory]
    [InlineData("z = [11.2, 12]\ncut = \"drawn\"", 11.99, false)]
    [InlineData("z = [0, 0.8]\ncut = \"drawn\"", 0.01, true)]
    public void Sunk_text_reads_from_outside_and_takes_its_area_times_its_depth(string keys, double level_mm, bool mirrored)
    {
        var kit = Kit(keys);
        KitCheck.Sound(kit);
        Assert.Equal((100 * 40 * 12) - (Set.Region.Area * Deep), kit.PartVolume_mm3, 0.02);
        var sand = PlanRegion.Rectangle(new(1, 1), new(99, 39)).Difference((mirrored ? kit.Drag() : kit.Cope()).Section(level_mm));
        // At the opening the sand is as wide as the letter was asked for by the hold at the tip: narrower by the depth's draft at most.
        Assert.InRange(Apart(sand, Placed(mirrored, 0)), 0, Set.Region.Geometry.Length * ((Deep * Math.Tan(2 * KitCheck.Degree)) + 0.001));
        Assert.True(Apart(sand, Placed(!mirrored, 0)) > 0.3 * Set.Region.Area);
    }

    // A region grown by r has at most A + P r + n π r² (Steiner, n pieces; a hole gains nothing by its corners), integrated over the height.
    [Fact]
    public void Raised_text_adds_its_area_times_its_height_and_its_draft()
    {
        var (with, without) = (Kit("z = [12, 12.8]"), KitCheck.Build(Job("") with { Features = [Job("").Features[0]] }));
        var (area, length, tangent) = (Set.Region.Area, Set.Region.Geometry.Length, Math.Tan(2 * KitCheck.Degree));
        Assert.Equal(area * Deep, with.PartVolume_mm3 - without.PartVolume_mm3, 0.02);
        var added = with.Unpocketed_mm3() - without.Unpocketed_mm3();
        var walls = length * Deep * Deep * tangent / 2;
        Assert.InRange(added, (area * Deep) + (0.8 * walls), (area * Deep) + walls + (Words.Length * Math.PI * Math.Pow(Deep, 3) * tangent * tangent / 3) + 0.05);
    }

    [Fact]
    public void Contraction_and_rapping_keep_letters_sound()
    {
        var kit = KitCheck.Build(JobFolder.Read($"gating = \"none\"\n{JobFolder.Head}{Plate}{Text("z = [12, 12.8]")}"));
        KitCheck.Sound(kit);
        Assert.DoesNotContain(kit.Findings, f => f.Code == "fine-letter");
    }

    // The typeface's stems are 0.18 of the height of a capital: see LetterWeight.
    [Fact]
    public void Letters_too_fine_for_the_sand_are_told_with_their_width_and_place()
    {
        var kit = KitCheck.Build(Bare(JobFolder.Read($"{JobFolder.Head}{Plate}{Text("z = [12, 12.8]").Replace("size = 8", "size = 3", StringComparison.Ordinal)}")));
        var finding = Assert.Single(kit.Findings, f => f.Code == "fine-letter" && f.Message.Contains("strokes", StringComparison.Ordinal));
        Assert.Equal((1.0, "mm"), (finding.Limit, finding.Unit));
        Assert.InRange(finding.Value!.Value, 0.14 * 3, 0.19 * 3);
        Assert.Equal(12.8, finding.At_mm!.Value.Z, 9);
        Assert.Contains("size", finding.Remedy, StringComparison.Ordinal);
    }

    private static string Text(string keys) => $"[[part]]\nname = \"words\"\ntext = \"{Words}\"\nat = [50, 20]\nsize = 8\n{keys}\n";

    private static Job Job(string keys) => Bare(JobFolder.Read($"{JobFolder.Head}{Plate}{Text(keys.Length == 0 ? "z = [12, 12.8]" : keys)}"));

    private static Job Bare(Job job) => job.Bare(2, joint_mm: 6);

    private static Kit Kit(string keys) => KitCheck.Build(Job(keys));

    private static PlanRegion Placed(bool mirrored, double turn_deg) =>
        Set.Region.Transformed(1, 0, new(-Set.Advance_mm / 2, -Size / 2)).Transformed(1, turn_deg * KitCheck.Degree, new(50, 20), mirrored);

    private static double Apart(PlanRegion a, PlanRegion b) => a.Difference(b).Area + b.Difference(a).Area;
}
