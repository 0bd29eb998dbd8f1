using PatternKit.Exchange.Lettering;
using PatternKit.Geometry.Numerics;

namespace PatternKit.Exchange.Tests.Lettering;

public class NonZeroWindingTests
{
    [Fact]
    public void Overlapping_contours_are_joined() =>
        Assert.Equal(7, NonZeroWinding.Region([Square(0, 0, 2), Square(1, 1, 2)]).Area, 12);

    [Fact]
    public void A_contour_the_other_way_round_is_a_hole() =>
        Assert.Equal(12, NonZeroWinding.Region([Square(0, 0, 4), Turned(Square(1, 1, 2))]).Area, 12);

    [Fact]
    public void A_contour_the_same_way_round_is_none() =>
        Assert.Equal(16, NonZeroWinding.Region([Square(0, 0, 4), Square(1, 1, 2)]).Area, 12);

    [Fact]
    public void A_hole_that_a_further_contour_covers_is_filled_there() =>
        Assert.Equal(14, NonZeroWinding.Region([Square(0, 0, 4), Turned(Square(1, 1, 2)), Rectangle(1, 1, 2, 3)]).Area, 12);

    [Fact]
    public void Both_lobes_of_a_crossed_contour_are_filled() =>
        Assert.Equal(2, NonZeroWinding.Region([[new(0, 0), new(2, 2), new(2, 0), new(0, 2)]]).Area, 12);

    [Fact]
    public void A_five_pointed_star_is_filled_to_its_heart()
    {
        // Pentagram of circumradius 1: area 5 sin 36° · (inner radius), the even-odd rule would leave its pentagon out.
        var star = Enumerable.Range(0, 5).Select(i => Math.SinCos(4 * Math.PI * i / 5)).Select(p => new Vec2(p.Cos, p.Sin)).ToArray();
        var inner = Math.Cos(2 * Math.PI / 5) / Math.Cos(Math.PI / 5);
        Assert.Equal(5 * inner * Math.Sin(Math.PI / 5), NonZeroWinding.Region([star]).Area, 12);
    }

    private static Vec2[] Square(double x, double y, double size) => Rectangle(x, y, x + size, y + size);

    private static Vec2[] Rectangle(double x, double y, double right, double top) => [new(x, y), new(right, y), new(right, top), new(x, top)];

    private static Vec2[] Turned(Vec2[] contour) => [.. contour.Reverse()];
}
