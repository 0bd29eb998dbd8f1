using PatternKit.Exchange.Dxf;

namespace PatternKit.Cli.Tests;

public sealed class TemplateDrawingTests
{
    [Fact]
    public void The_brackets_drawing_is_what_the_writer_makes_of_it()
    {
        var stored = File.ReadAllBytes(Path.Combine(AppContext.BaseDirectory, "templates", "lever-bracket", "bracket.dxf"));
        Assert.Equal(DxfWriter.Write(LeverBracketDrawing.Document()), stored);
    }
}
