namespace PatternKit.Geometry.Tests.Reference;

/// <summary>What a test does when an independent reference is not installed: skip aloud, but fail under CI=true.</summary>
internal static class ReferenceGate
{
    /// <summary>Call first in every test that uses <see cref="ManifoldReference"/>.</summary>
    public static void NeedsManifold()
    {
        if (ManifoldReference.WhyMissing is not { } why) return;
        if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(why);
        Assert.Skip(why);
    }
}
