using System.Collections.Immutable;

namespace PatternKit.Geometry.Mesh;

/// <summary>Sides with a direction linked to closed loops.</summary>
internal static class SideLoops
{
    /// <summary>The loops, in the order of the first of their sides; where loops touch, any way of pairing them covers every side once.</summary>
    /// <param name="sides">As many leave a corner as come to it.</param>
    internal static IEnumerable<ImmutableArray<T>> Of<T>(IReadOnlyCollection<(T From, T To)> sides)
        where T : notnull
    {
        var next = new Dictionary<T, Stack<T>>();
        foreach (var (from, to) in sides)
        {
            if (!next.TryGetValue(from, out var ends)) next.Add(from, ends = new());
            ends.Push(to);
        }

        foreach (var (start, _) in sides)
        {
            if (next[start].Count == 0) continue;
            var loop = ImmutableArray.CreateBuilder<T>();
            for (var corner = start; next[corner].Count > 0; corner = next[corner].Pop()) loop.Add(corner);
            yield return loop.ToImmutable();
        }
    }
}
