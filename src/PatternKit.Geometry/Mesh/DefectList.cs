using System.Collections.Immutable;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Geometry.Mesh;

/// <summary>Counts defects by kind and keeps the one with the smallest number as the first.</summary>
internal sealed class DefectList
{
    private readonly SortedDictionary<MeshDefectKind, MeshDefect> _byKind = [];

    public int Count => _byKind.Count;

    public bool Has(MeshDefectKind kind) => _byKind.ContainsKey(kind);

    public void Add(MeshDefectKind kind, Vec3 at, int index, int count = 1) =>
        _byKind[kind] = _byKind.TryGetValue(kind, out var known) && known.FirstIndex <= index
            ? known with { Count = known.Count + count }
            : new(kind, known.Count + count, at, index);

    public ImmutableArray<MeshDefect> ToImmutable() => [.. _byKind.Values];
}
