using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using CsCheck;
using PatternKit.Patterns.Kits;
using PatternKit.Patterns.Tests.Parts;

namespace PatternKit.Patterns.Tests.Kits;

/// <summary>What must hold for the kit of any job: plates with blocks, rounds and cuts put on and into them at random.</summary>
public sealed class RandomKitTests
{
    private static readonly Gen<Feature> Anything = Gen.Select(
        Gen.Int[0, 4], Gen.Double[-35, 35], Gen.Double[-25, 25], Gen.Double[3, 40], Gen.Double[3, 30], Gen.Int[-15, 20], Gen.Int[1, 15]).Select(
        (kind, x, y, a, b, low, height) => kind switch
        {
            0 => Jobs.Block(x - (a / 2), y - (b / 2), x + (a / 2), y + (b / 2), Math.Min(low, 6), low + height + 8),
            1 => Jobs.Round(x, y, a, Math.Min(low, 6), low + height + 8),
            // Through holes, and recesses from either side.
            2 => Jobs.Round(x, y, a / 2, -40, 60, CutKind.Drawn),
            3 => Jobs.Block(x - (a / 2), y - (b / 2), x + (a / 2), y + (b / 2), low, 60, CutKind.Drawn),
            _ => Jobs.Block(x - (a / 2), y - (b / 2), x + (a / 2), y + (b / 2), -40, low, CutKind.Drawn),
        });

    private static readonly Gen<Job> AnyJob = Gen.Select(
        Anything.Array[0, 3], Gen.Int[0, 3], Gen.Int[0, 2], Gen.Int[0, 1], Gen.Int[0, 1], Gen.Int[0, 3]).Select(
        (features, draft, holds, rapping, match, marked) =>
        {
            var job = Jobs.Of([Jobs.Block(-45, -35, 45, 35, -3, 7), .. features]);
            var degrees = new[] { 1.0, 2, 3, 5 }[draft];
            return job with
            {
                Pattern = new(
                    degrees * KitCheck.Degree, (draft == 2 ? 5 : degrees) * KitCheck.Degree, (SizeHolds)holds,
                    Contraction: 0.013, Rapping_mm: 0.1 * rapping, Dowels: marked == 0 ? null : false),
                Parting = new(null, match == 1),
            };
        });

    private static readonly Gen<Job> PlainJob = AnyJob.Select(job => job with { Pattern = job.Pattern with { Fillet = new(0, ImmutableDictionary<string, double>.Empty) } });

    private static readonly Gen<Job> RoundedJob = Gen.Select(AnyJob, Gen.Int[1, 4]).Select((job, radius) =>
        job with { Pattern = job.Pattern with { Round = new(radius, ImmutableDictionary<string, double>.Empty) } });

    [Fact]
    public void The_kit_of_any_job_is_sound() => Made(PlainJob, KitCheck.Sound, 25);

    /// <summary>Jobs that once failed: pieces told apart by a footprint that counted a hole as metal.</summary>
    [Theory]
    [InlineData("4EjiGXgbowJ9")]
    public void The_kit_of_a_job_that_once_failed_is_sound(string seed) => Made(PlainJob, KitCheck.Sound, 1, seed);

    [Fact]
    public void The_kit_of_any_job_with_fillets_is_sound() => Made(AnyJob, KitCheck.Sound, 12);

    /// <summary>Jobs whose fillets leave a steep facet at their full radii: they are held back there, and the kit says so.</summary>
    [Theory]
    [InlineData("aXrKnV96Q2Us")]
    [InlineData("aXrKnV96Q3yN")]
    public void Crowded_fillets_are_held_back_until_every_facet_has_its_draft(string seed)
    {
        var told = 0;
        Made(
            AnyJob,
            kit =>
            {
                KitCheck.Sound(kit);
                var held = kit.Findings.Where(f => f.Message.Contains("crowded by others", StringComparison.Ordinal)).ToArray();
                Assert.All(held, f => Assert.True(f.Value < f.Limit));
                told += held.Length;
            },
            1, seed);
        Assert.True(told > 0);
    }

    /// <summary>Square corners of the plan have fillets running up to edges.</summary>
    [Fact]
    public void Every_facet_of_any_job_with_rounded_edges_has_its_draft() => Made(RoundedJob, KitCheck.Sound, 12);

    /// <summary>
    /// Jobs that once failed: a fillet's line left out though it showed; a point beside a hole moved down past the height at which both terrains meet; what fillets would add in a
    /// hole counted; crossings of a wall with an arc, found over and over along the rim where both end; an edge rounded away to a hollow
    /// that comes up beside it.
    /// </summary>
    [Theory]
    [InlineData("78-4-SZ8DYn2")]
    [InlineData("esUvRnsKnRq1")]
    [InlineData("90b_bGX2V7Ba")]
    [InlineData("12MZOHp5sSk8")]
    [InlineData("12MZOHp5sTeB")]
    public void The_kit_of_a_rounded_job_that_once_failed_is_sound(string seed) => Made(RoundedJob, KitCheck.Sound, 1, seed);

    /// <summary>A block inside a recess that was cut clean through: it hangs in the sand.</summary>
    [Fact]
    public void A_piece_that_touches_neither_the_rest_nor_the_joint_is_refused() => AnyJob.Sample(
        job => Assert.Contains("touches neither the rest of it nor the joint", Assert.Throws<Exchange.InputException>(() => KitCheck.Build(job)).Message, StringComparison.Ordinal),
        seed: "doj48Z8krTr1");

    [Fact]
    public void The_kit_of_any_job_with_rounded_edges_and_no_fillets_is_sound() => Made(
        RoundedJob.Select(job => job with { Pattern = job.Pattern with { Fillet = new(0, ImmutableDictionary<string, double>.Empty) } }),
        KitCheck.Sound, 12);

    private static void Made(Gen<Job> jobs, Action<Kit> check, int count, string? from = null, [CallerMemberName] string test = "") => jobs.Sample(
        job =>
        {
            try
            {
                check(KitCheck.Build(job));
            }
            catch (Exchange.InputException)
            {
                // A cut that opens nowhere, or no metal left: said so, and nothing made.
            }
        },
        iter: count, threads: 1, print: Print, seed: from, test: test);

    private static string Print(Job job) => string.Join("; ", job.Features.Select(f => FormattableString.Invariant(
        $"{f.Name} {f.Cut} {f.Low_mm:R}..{f.High_mm:R} {string.Join(' ', f.Loops.SelectMany(l => l.Vertices).Select(v => $"({v.Point.X:R},{v.Point.Y:R})"))}")))
        + FormattableString.Invariant($" | {job.Pattern} {job.Parting}");
}
