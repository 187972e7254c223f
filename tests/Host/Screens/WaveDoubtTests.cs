using Intervalometer.Core.Swash;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>What the screens of the waves say while the box does not know enough, or when its marks contradict each other.</summary>
[TestClass]
public class WaveDoubtTests
{
    [TestMethod]
    public void WithoutATimedBackwashTheCardShowsNoChanceAndSaysHowToTimeOne()
    {
        var rig = new PanelRig();
        for (int i = 0; i < 5; i++) rig.Press(Button.Mark).Pass(9_880_000);
        rig.Press(Button.Mark).Pass(3_000_000).Press(Button.Down, Button.Down, Button.Down);
        while (rig.Bench.NowUs / 2_000_000 % 2 == 0) rig.Pass(100_000);
        GoldenPictures.Check(rig, "waves-untimed");
    }

    [TestMethod]
    public void MarksThatContradictEachOtherAreReportedOnTheCardAndInTheRun()
    {
        // Waves every 8 s: the arrival is tapped, the turn 3.5 s later is held for its backwash of 3.6 s.
        var rig = new PanelRig();
        rig.Settings.StepShutter(18);
        for (int i = 0; i < 10; i++) rig.Press(Button.Mark).Pass(3_380_000).Hold(Button.Mark, 3_600_000).Pass(900_000);
        rig.Press(Button.Down, Button.Down, Button.Down).Pass(1_000_000).Draw();
        rig.Pass(1_000_000);
        GoldenPictures.Check(rig, "waves-disagree");
        rig.Press(Button.Fire).Pass(1_000_000);
        GoldenPictures.Check(rig, "run-disagree");
    }

    [TestMethod]
    public void WhereArrivalsTellTooLittleTheBoxSaysBeforehandThatTheTurnIsSurer()
    {
        // Bores that look alike and turn after 2 to 5 s; backwashes of 3.5 s.
        PanelRig rig = OnArrivals();
        GoldenPictures.Check(rig, "waves-surer-new");
        rig.Press(Button.Fire).Pass(1_000_000);
        GoldenPictures.Check(rig, "run-surer-new");
        for (int i = 0; i < 16; i++) rig.Hold(Button.Mark, 2_000_000 + i * 7 % 4 * 1_000_000).Pass(12_000_000);
        Assert.IsTrue(rig.Bench.Link.Report.ChancePercent is > 0 and < 80, $"{rig.Bench.Link.Report.ChancePercent} %");
        GoldenPictures.Check(rig, "run-surer");
        rig.Press(Button.Fire).Pass(500_000).Press(Button.Back).Pass(2_000_000);
        while (rig.Bench.NowUs / 2_000_000 % 2 != 0) rig.Pass(100_000);
        GoldenPictures.Check(rig, "waves-surer");
    }

    [TestMethod]
    public void WhereEveryWaveTurnsAsSoonTheArrivalDoesAsWellAndNothingIsReported()
    {
        PanelRig rig = OnArrivals();
        rig.Press(Button.Fire).Pass(1_000_000);
        for (int i = 0; i < 16; i++) rig.Hold(Button.Mark, 3_500_000).Pass(12_000_000);
        Assert.IsFalse(WavesCard.TurnIsSurer(rig.Bench.Link.Sea, rig.Bench.Link.Report.ChancePercent), $"{rig.Bench.Link.Report.ChancePercent} %");
        GoldenPictures.Check(rig, "run-arrivals");
        rig.Press(Button.Fire).Pass(500_000).Press(Button.Back).Pass(3_000_000);
        int card = rig.Bench.Link.Sea.Percent((int)FiringWay.OnArrival), marked = rig.Bench.Link.Sea.Percent((int)FiringWay.AfterMark);
        Assert.IsFalse(WavesCard.TurnIsSurer(rig.Bench.Link.Sea, card), $"{card} %, after the mark {marked} %");
    }

    [TestMethod]
    public void ArrivalsAreNeverRecommendedHoweverVagueTheHand()
    {
        // Waves that all turn 3.5 s after they arrive, and a hand of which the drill found a spread of 0.9 s.
        PanelRig rig = OnArrivals(900);
        rig.Press(Button.Fire).Pass(1_000_000);
        for (int i = 0; i < 16; i++) rig.Hold(Button.Mark, 3_500_000).Pass(12_000_000);
        rig.Press(Button.Fire).Pass(500_000).Press(Button.Back).Pass(3_000_000);
        // The rhythm has grown old meanwhile.
        for (int i = 0; i < 4; i++) rig.Hold(Button.Mark, 3_500_000).Pass(8_500_000);
        int arrival = rig.Bench.Link.Sea.Percent((int)FiringWay.OnArrival), marked = rig.Bench.Link.Sea.Percent((int)FiringWay.AfterMark);
        Assert.IsTrue(arrival > marked + 3, $"{arrival} % on arrivals, {marked} % after the mark");
        // The card does not say that another way is better than arrivals that look so good, ...
        string seen = DisplayReader.Words(rig.Draw().Pixel);
        Assert.DoesNotContain("Better", seen, seen);
        // ... but what a held Select takes is the turn.
        rig.Press(Button.Select, Button.Down, Button.Down, Button.Down, Button.Back).Pass(3_000_000);
        Assert.AreEqual(FiringWay.OnMark, rig.Settings.Waves.Way);
        rig.Hold(Button.Select, 1_000_000).Pass(500_000);
        Assert.AreEqual(FiringWay.AfterMark, rig.Settings.Waves.Way);
    }

    // Eight backwashes timed; then the way is set to the arrival on the card.
    private static PanelRig OnArrivals(int handSpreadMs = 150)
    {
        var rig = new PanelRig();
        rig.Settings.Waves.HandSpreadMs = handSpreadMs;
        rig.Settings.StepShutter(18);
        rig.Settings.Waves.Waves = 0;
        for (int i = 0; i < 8; i++) rig.Hold(Button.Mark, 3_500_000).Pass(8_500_000);
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Select, Button.Up, Button.Up, Button.Back).Pass(2_000_000);
        Assert.AreEqual(FiringWay.OnArrival, rig.Settings.Waves.Way);
        while (rig.Bench.NowUs / 2_000_000 % 2 != 0) rig.Pass(100_000);
        return rig;
    }

    /// <summary>Through buttons and pins: WAVES is three presses from home, and a box that nobody set opens a little after the mark and not before one.</summary>
    [TestMethod]
    public void ANewBoxFiresALittleAfterTheMarkAndNotByItself()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(4_000_000);
        for (int i = 0; i < 3; i++) board.Press(Button.Down, 4_100_000 + i * 500_000, 120_000);
        board.Press(Button.Fire, 6_000_000, 120_000);
        board.RunUntil(30_000_000);
        Assert.HasCount(0, board.Camera.Frames);
        board.Press(Button.Mark, 30_100_000, 120_000);
        board.RunUntil(50_000_000);
        Assert.HasCount(1, board.Camera.Frames);
        Assert.AreEqual(30_100_000 + 300_000.0, board.Camera.Frames[0].OpenUs, 60_000.0, "0.3 s after the press, while nothing is learned");
    }
}
