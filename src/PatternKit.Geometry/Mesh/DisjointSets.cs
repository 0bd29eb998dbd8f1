namespace PatternKit.Geometry.Mesh;

/// <summary>Numbers joined into sets (union by smaller root, path halving). The root is the smallest member.</summary>
internal sealed class DisjointSets
{
    private readonly int[] _parent;

    public DisjointSets(int count)
    {
        _parent = new int[count];
        for (var i = 0; i < count; i++) _parent[i] = i;
    }

    public int Find(int x)
    {
        while (_parent[x] != x) x = _parent[x] = _parent[_parent[x]];
        return x;
    }

    public void Join(int x, int y)
    {
        (x, y) = (Find(x), Find(y));
        if (x < y) _parent[y] = x;
        else _parent[x] = y;
    }
}
