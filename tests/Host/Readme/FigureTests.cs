namespace Intervalometer.Tests.Host.Readme;

/// <summary>Every figure of README comes from a file or from what a command does, or says why it cannot.</summary>
[TestClass]
public class FigureTests
{
    private static readonly Lazy<Figure[]> All = new(() => [.. BoxFigures.All(), .. MorningFigures.All()]);

    [TestMethod]
    public void EveryFigureStandsThereAsItsSourceHasIt()
    {
        Assert.AreEqual("", Missing(ReadmeText.Prose));
    }

    [TestMethod]
    public void NoNumberStandsThereWithoutASource()
    {
        string[] rest = ReadmeText.Numbers(WithoutFigures(ReadmeText.Prose));
        Assert.AreEqual("", string.Join("\n", rest), "say in BoxFigures or MorningFigures where each comes from");
    }

    /// <summary>The check itself: whichever figure is changed, in README or in its source, the two no longer agree.</summary>
    [TestMethod]
    public void AChangedFigureIsFound()
    {
        foreach (Figure figure in All.Value)
        {
            string changed = ReadmeText.WithAnotherFigure(figure.Words);
            Assert.AreNotEqual(figure.Words, changed, $"\"{figure.Words}\" has no figure");
            string text = ReadmeText.Prose.Replace(figure.Words, changed, StringComparison.Ordinal);
            Assert.Contains(figure.Words, Missing(text));
        }
    }

    [TestMethod]
    public void ANumberWithoutASourceIsFound()
    {
        Assert.HasCount(4, ReadmeText.Numbers(ReadmeText.ProseOf("It weighs 80 g, or `90`, and twelve of them\n1. weigh half a [stone](11.md) in 2031. An ESP32 and I2C are names.")));
    }

    private static string Missing(string text) =>
        string.Join("\n", All.Value.Where(f => !text.Contains(f.Words, StringComparison.Ordinal)).Select(f => $"\"{f.Words}\" does not stand in README; the figure is that of {f.Source}"));

    // The longest first, so that a short one takes nothing out of the middle of a longer one.
    private static string WithoutFigures(string text)
    {
        foreach (Figure figure in All.Value.OrderByDescending(f => f.Words.Length)) text = text.Replace(figure.Words, " ", StringComparison.Ordinal);
        return text;
    }
}
