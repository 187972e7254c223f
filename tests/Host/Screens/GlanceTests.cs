using Intervalometer.Screens.Cards;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>
/// The line on the first screen that says what comes next. On 14 March 2031 at the invented place first light is at 06:06, sunrise at
/// 06:39, high water at 07:44, sunset at 18:25, by the cards SUN and TIDE, whose figures other tests check.
/// </summary>
[TestClass]
public class GlanceTests
{
    private static string Line(PanelRig rig) => GlanceLine.Next(rig.Shore, rig.Bench.NowUs, out _);

    [TestMethod]
    [DataRow("2031-03-14T05:30:00Z", "First light in 36 min")]
    [DataRow("2031-03-14T06:06:30Z", "Sunrise in 31 min")]
    [DataRow("2031-03-14T06:45:00Z", "High water in 59 min")]
    [DataRow("2031-03-14T16:00:00Z", "Leave in 1 h 17 min")]
    [DataRow("2031-03-14T16:50:00Z", "Leave in 27 min")]
    [DataRow("2031-03-14T17:25:00Z", "LEAVE NOW: see PATH")]
    [DataRow("2031-03-14T17:40:00Z", "Sunset in 44 min")]
    [DataRow("2031-03-14T22:00:00Z", "Low water in 4 h 49 min")]
    public void TheSoonestEventIsShown(string at, string words)
    {
        PanelRig rig = new PanelRig().At(at);
        while (!rig.Shore.CurveReady || !rig.Shore.Sun.Done) rig.Pass(50_000);
        Assert.AreEqual(words, Line(rig));
    }

    /// <summary>From half an hour before the time to leave on nothing else is told, however soon it comes: not the wipe, and not the sunset at 18:25.</summary>
    [TestMethod]
    [DataRow("2031-03-14T16:48:00Z", "Leave in ")]
    [DataRow("2031-03-14T17:13:00Z", "Leave in ")]
    [DataRow("2031-03-14T17:20:00Z", "LEAVE NOW: see PATH")]
    public void NothingHidesTheTimeToLeave(string at, string words)
    {
        PanelRig rig = new PanelRig().At(at);
        while (!rig.Shore.WayReady || !rig.Shore.CurveReady || !rig.Shore.Sun.Done) rig.Pass(50_000);
        for (int i = 0; i < 150; i++)
        {
            string line = GlanceLine.Next(rig.Shore, rig.Bench.NowUs, out bool ofTheSea);
            Assert.StartsWith(words, line);
            Assert.IsTrue(ofTheSea);
            rig.Pass(1_000_000);
        }
    }

    [TestMethod]
    public void APathThatIsCutIsReportedInTurnWithWhatComesNextAndTheCaution()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T17:40:00Z");
        while (!rig.Shore.WayReady || !rig.Shore.CurveReady || !rig.Shore.Sun.Done) rig.Pass(50_000);
        while (rig.Bench.NowUs / GlanceLine.LineUs % 3 != 0) rig.Pass(100_000);
        Assert.AreEqual("CUT OFF: see PATH", GlanceLine.Line(rig.Shore, rig.Bench.NowUs));
        GoldenPictures.Check(rig, "light-cut-off");
        rig.Pass(GlanceLine.LineUs);
        Assert.StartsWith("Sunset in ", GlanceLine.Line(rig.Shore, rig.Bench.NowUs));
        rig.Pass(GlanceLine.LineUs);
        Assert.AreEqual(ShorePainter.CautionLine(rig.Bench.NowUs / 3), GlanceLine.Line(rig.Shore, rig.Bench.NowUs));
    }

    [TestMethod]
    public void InTheLastHalfMinuteTheLineShowsTheWipe()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        while (rig.Shore.WipeInUs(rig.Bench.NowUs) > 20_500_000) rig.Pass(100_000);
        Assert.AreEqual("Wipe the glass in 20 s", Line(rig));
        rig.Shore.Settings.SprayMinutes = 0;
        rig.Pass(1_000_000);
        Assert.StartsWith("First light", Line(rig));
    }

    [TestMethod]
    public void TheTimeToLeaveStandsWithTheCautionInTurn()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:20:00Z").Pass(20_000_000);
        string line = GlanceLine.Next(rig.Shore, rig.Bench.NowUs, out bool ofTheSea);
        Assert.StartsWith("Leave in ", line);
        Assert.IsTrue(ofTheSea);
        while (rig.Bench.NowUs / GlanceLine.LineUs % 3 != 1) rig.Pass(100_000);
        GoldenPictures.Check(rig, "light-leave");
        rig.Pass(GlanceLine.LineUs);
        GoldenPictures.Check(rig, "light-leave-caution");
    }

    [TestMethod]
    public void WithoutAClockItSaysWhereToSetIt()
    {
        var rig = new PanelRig();
        rig.Shore.Settings.SprayMinutes = 0;
        rig.Pass(1_000_000);
        Assert.AreEqual("No clock: Back, then PLACE", Line(rig));
    }

    [TestMethod]
    public void TheFirstScreensShowIt()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        while (rig.Bench.NowUs / GlanceLine.LineUs % 3 != 1) rig.Pass(100_000);
        GoldenPictures.Check(rig, "light-glance");
        rig.Press(Button.Back);
        while (rig.Bench.NowUs / GlanceLine.LineUs % 2 == 0) rig.Pass(100_000);
        GoldenPictures.Check(rig, "tide-glance");
    }
}
