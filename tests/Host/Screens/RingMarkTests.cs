using Intervalometer.Screens;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The dashes in the heading: one for each card of the ring, and the one of the card that is shown is thick.</summary>
[TestClass]
public class RingMarkTests
{
    [TestMethod]
    [DataRow(false)]
    [DataRow(true)]
    public void EachCardOfARingHasItsDash(bool shore)
    {
        var rig = new PanelRig();
        if (shore) rig.Press(Button.Back);
        string first = rig.Panel.ScreenName;
        var thick = new List<int>();
        do
        {
            (int dashes, int here) = Dashes(rig.Draw());
            thick.Add(here);
            Assert.IsGreaterThan(thick.Count - 1, dashes, rig.Panel.ScreenName);
            rig.Press(Button.Down);
        }
        while (rig.Panel.ScreenName != first);
        CollectionAssert.AreEqual(Enumerable.Range(0, thick.Count).ToArray(), thick);
        Assert.AreEqual(thick.Count, Dashes(rig.Draw()).Dashes);
    }

    // Each run of lit columns in the right part of the heading's fifth row is a dash.
    private static (int Dashes, int Thick) Dashes(Frame frame)
    {
        int dashes = 0, thick = -1;
        for (int x = 74; x < Frame.Width; x++)
        {
            if (!frame.Pixel(x, 4) || frame.Pixel(x - 1, 4)) continue;
            if (frame.Pixel(x, 2)) thick = dashes;
            dashes++;
        }
        return (dashes, thick);
    }
}
