using SkiaSharp;

namespace PatternKit.Sheets.Paper;

/// <summary>Pages that are filled from above; a new one begins where there is no room.</summary>
internal sealed class PageFlow
{
    /// <summary>White around a page, mm.</summary>
    public const double Margin_mm = 14;

    private const double Foot_mm = 18;

    private readonly PaperFormat format;
    private readonly List<List<Action<SKCanvas>>> pages = [[]];
    private readonly Stack<(double X_mm, double Thick_mm)> bars = new();

    public PageFlow(PaperFormat format) => (this.format, Y_mm) = (format, Margin_mm);

    /// <summary>Where the next thing goes.</summary>
    public double Y_mm { get; private set; }

    /// <summary>Width between the margins.</summary>
    public double Width_mm => format.Width_mm - (2 * Margin_mm);

    /// <summary>Height of a page's room.</summary>
    public double Height_mm => format.Height_mm - Margin_mm - Foot_mm;

    /// <summary>Pages so far.</summary>
    public IReadOnlyList<IReadOnlyList<Action<SKCanvas>>> Pages => pages;

    /// <summary>Begins a new page where a height does not fit on this one; gives whether it did.</summary>
    public bool Room(double height_mm)
    {
        if (Y_mm + height_mm <= Margin_mm + Height_mm || Y_mm == Margin_mm) return false;
        pages.Add([]);
        Y_mm = Margin_mm;
        return true;
    }

    /// <summary>Goes down, past what was painted.</summary>
    public void Advance(double height_mm)
    {
        var (top, bottom) = (Y_mm, Math.Min(Y_mm + height_mm, Margin_mm + Height_mm));
        foreach (var (x, thick) in bars)
            Paint(canvas =>
            {
                using var ink = new SKPaint { Color = SKColor.Parse(DrawingStyle.Default.Fill) };
                canvas.DrawRect((float)x, (float)top, (float)thick, (float)(bottom - top), ink);
            });
        Y_mm += height_mm;
    }

    /// <summary>A gap, none at the head of a page.</summary>
    public void Gap(double height_mm)
    {
        if (Y_mm > Margin_mm) Advance(Math.Max(0, Math.Min(height_mm, Margin_mm + Height_mm - Y_mm)));
    }

    /// <summary>Paints on this page.</summary>
    public void Paint(Action<SKCanvas> paint) => pages[^1].Add(paint);

    /// <summary>Fills with an upright bar beside it.</summary>
    public void Barred(double x_mm, double thick_mm, Action fill)
    {
        bars.Push((x_mm, thick_mm));
        fill();
        bars.Pop();
    }
}
