namespace PatternKit.Patterns.Tests.Kits;

/// <summary>What must hold for the kit of any ready job.</summary>
public sealed class AnyKitTests
{
    public static TheoryData<string> Templates() => KitCheck.Templates();

    [Theory]
    [MemberData(nameof(Templates))]
    public void The_kit_of_a_template_is_sound(string name)
    {
        var kit = KitCheck.Build(KitCheck.Template(name));
        KitCheck.Sound(kit);
        Assert.False(kit.HasStop);
        Assert.All(kit.Measures, m => Assert.NotNull(m.Pattern_mm));
    }
}
