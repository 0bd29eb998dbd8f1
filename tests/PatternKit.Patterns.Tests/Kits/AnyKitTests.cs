using CsCheck;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>What must hold for any kit: ready jobs and random ones.</summary>
public sealed class AnyKitTests
{
    public static TheoryData<string> Templates() => KitCheck.Templates();

    private static readonly Gen<Feature> Any = Gen.Select(
        Gen.Int[0, 1], Gen.Int[-25, 25], Gen.Int[-15, 15], Gen.Int[8, 40], Gen.Int[8, 30], Gen.Int[-12, 6], Gen.Int[2, 16], Gen.Int[0, 3]).Select(
        (kind, x, y, a, b, low, height, cut) =>
        {
            // A cut goes through, so that it opens somewhere.
            var (from, to, role) = cut == 0 ? (-20, 30, CutKind.Drawn) : (low, low + height, CutKind.None);
            return kind == 0
                ? Jobs.Block(x - (a / 2.0), y - (b / 2.0), x + (a / 2.0), y + (b / 2.0), from, to, role)
                : Jobs.Round(x, y, cut == 0 ? Math.Min(a, 20) : a, from, to, role);
        });

    private static readonly Gen<Job> Job = Gen.Select(
        Any.Array[0, 3], Gen.Double[0.5, 4], Gen.Double[0.5, 4], Gen.Int[0, 2], Gen.Double[0, 0.025], Gen.Double[0, 0.3], Gen.Bool).Select(
        (features, outside, inside, holds, contraction, rapping, match) =>
        {
            // A plate joins what would else lie about in pieces.
            var job = Jobs.Of([Jobs.Block(-45, -35, 45, 35, -3, 7), .. features]).Bare(outside, inside, holds: (SizeHolds)holds);
            return job with
            {
                Pattern = job.Pattern with { Contraction = contraction, Rapping_mm = rapping, Dowels = null },
                Parting = new(null, match),
            };
        });

    [Theory]
    [MemberData(nameof(Templates))]
    public void The_kit_of_a_template_is_sound(string name)
    {
        var kit = KitCheck.Build(KitCheck.Template(name));
        KitCheck.Sound(kit);
        Assert.False(kit.HasStop);
        Assert.All(kit.Measures, m => Assert.NotNull(m.Pattern_mm));
    }

    [Fact]
    public void The_kit_of_any_job_is_sound()
    {
        Job.Sample(job => KitCheck.Sound(KitCheck.Build(job)), iter: 20, threads: 1, print: Text);
    }

    private static string Text(Job job) =>
        $"{job.Pattern} {job.Parting}: " + string.Join("; ", job.Features.Select(f =>
            FormattableString.Invariant($"{f.Cut} {f.Low_mm}..{f.High_mm} {string.Join(' ', f.Loops[0].Vertices.Select(v => $"({v.Point.X},{v.Point.Y},{v.Bulge})"))}")));
}
