using PatternKit.Geometry.Grids;

namespace PatternKit.Patterns.Feeding;

/// <summary>
/// The walls that a thick section borders: the metal around it that is thinner by what makes a section stand out, as far as the section is thick. What the rest of the casting is like does not matter, however
/// much or little of it there is.
/// </summary>
internal static class WallsBeside
{
    /// <summary>Thickness under which half of that metal lies, mm; null where all is as thick, or what is thinner is too little to count: a lug on a plate does not make the plate a hot spot.</summary>
    /// <param name="walls">Thickness of the casting.</param>
    /// <param name="from">A cell of the section.</param>
    /// <param name="across_mm">Largest ball in it.</param>
    /// <param name="standsOut">Metal that is less than this many times thinner is of the section.</param>
    /// <param name="least">Least share of the section's volume that the walls beside it make up.</param>
    public static double? Thickness_mm(LocalThickness walls, int from, double across_mm, double standsOut, double least)
    {
        var grid = walls.Grid;
        var section = Grown([from], int.MaxValue, c => walls.At_mm(c) * standsOut >= across_mm);
        var reach = (int)Math.Ceiling(across_mm / grid.Cell_mm);
        var beside = Grown(section, reach, c => true);
        beside.ExceptWith(section);
        var volume = beside.Sum(c => grid.Part(c));
        if (!(volume >= least * section.Sum(c => grid.Part(c)))) return null;
        var half = volume / 2;
        foreach (var cell in beside.OrderBy(walls.At_mm).ThenBy(c => c))
            if ((half -= grid.Part(cell)) <= 0) return walls.At_mm(cell);
        return null;

        HashSet<int> Grown(IReadOnlyCollection<int> first, int steps, Func<int, bool> isIn)
        {
            HashSet<int> found = [.. first];
            List<int> front = [.. first];
            for (var i = 0; i < steps && front.Count > 0; i++)
            {
                List<int> next = [];
                foreach (var cell in front)
                {
                    for (var axis = 0; axis < 3; axis++)
                    {
                        foreach (var other in new[] { cell - grid.Stride(axis), cell + grid.Stride(axis) })
                            if (grid.IsSolid(other) && isIn(other) && found.Add(other)) next.Add(other);
                    }
                }

                front = next;
            }

            return found;
        }
    }
}
