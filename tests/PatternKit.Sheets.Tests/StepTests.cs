using System.Xml.Linq;
using PatternKit.Foundry;
using PatternKit.Patterns.Kits;
using PatternKit.Sheets.Html;

namespace PatternKit.Sheets.Tests;

/// <summary>The steps of the sheet.</summary>
public sealed class StepTests
{
    private static readonly XNamespace Xhtml = "http://www.w3.org/1999/xhtml";

    // Every caution of the table stands at the step where it matters, for a sheet that has all of them.
    [Fact]
    public void Every_caution_stands_at_one_step()
    {
        var cautions = FoundryTables.Default.Cautions.ToArray();
        Assert.True(cautions.Length > 15);
        var kit = SampleKits.Frusta() with { Cautions = [.. cautions] };
        // Cores are set in a step of their own, which this kit has none of: its caution goes to the pour.
        var told = Steps(kit).Descendants(Xhtml + "p").Where(p => (string?)p.Attribute("class") == "caution").Select(p => p.Value).ToArray();
        Assert.All(cautions, c => Assert.Single(told, t => t.Contains(c.Text, StringComparison.Ordinal)));
    }

    [Fact]
    public void A_caution_without_a_step_of_its_own_stands_at_the_pour()
    {
        // Nobody's key: "water" has its step, "oil" has none.
        var steps = Steps(SampleKits.Frusta()).Descendants(Xhtml + "li").ToArray();
        Assert.Contains("Melt ", steps.Single(s => s.Value.Contains("Keep water away", StringComparison.Ordinal)).Value, StringComparison.Ordinal);
        Assert.Contains("without a stop", steps.Single(s => s.Value.Contains("Fumes of burnt oil", StringComparison.Ordinal)).Value, StringComparison.Ordinal);
    }

    // The order of hand moulding as manuals of the trade teach it: drag, roll over, cope, vents, draw, close, weight, pour, shake out.
    [Fact]
    public void Steps_come_in_the_order_of_the_work()
    {
        var text = Steps(SampleKits.Frusta()).Value;
        string[] order = ["Seal with", "inside the drag flask", "silica-free parting powder", "Riddle facing sand", "roll them over", "Set the cope half", "Vent towards", "Lift the cope", "Rap lightly", "Mend broken", "Close the cope", "Clamp or weight", "Melt ", "Skim", "without a stop", "Leave the casting", "Break the mould"];
        var at = order.Select(o => text.IndexOf(o, StringComparison.Ordinal)).ToArray();
        Assert.DoesNotContain(-1, at);
        Assert.Equal(at.Order(), at);
        // A mask at sanding and at both dustings.
        Assert.Equal(3, text.Split("with a mask on").Length - 1);
    }

    [Fact]
    public void Steps_are_numbered_through()
    {
        var lists = Steps(SampleKits.Frusta()).Descendants(Xhtml + "ol").ToArray();
        var next = 1;
        foreach (var list in lists)
        {
            Assert.Equal(next, (int?)list.Attribute("start") ?? 1);
            next += list.Elements().Count();
        }

        Assert.True(next > 18);
    }

    private static XElement Steps(Kit kit) =>
        ShopSheet.Document(kit).Descendants(Xhtml + "section").Single(s => (string?)s.Attribute("aria-labelledby") == "steps");
}
