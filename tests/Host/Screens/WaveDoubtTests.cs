using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>What the waves' screens say while the box does not know enough, or knows things that contradict each other.</summary>
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
    public void MarksThatContradictEachOtherAreToldOnTheCardAndInTheRun()
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
}
