using Intervalometer.Core.Exposure;
using Intervalometer.Screens;
using Intervalometer.Settings;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>Every screen is at most three presses from LIGHT, where a held press counts as one. Every setting changes once for a press, and again and again while the button is held.</summary>
[TestClass]
public class ReachTests
{
    /// <summary>The most presses from home to any screen.</summary>
    public const int Most = 3;

    private static readonly Button[] Keys = [Button.Up, Button.Down, Button.Back, Button.Select, Button.Fire];

    [TestMethod]
    public void EveryScreenIsAtMostThreePressesFromHome()
    {
        var seen = new Dictionary<string, int>();
        Explore([], 0);
        foreach (string name in new[] { "LIGHT", "GLASS", "FRAMES", "WAVES", "DEPTH", "TIME WANTED", "TAKEN", "CAMERA", "YOUR HAND", "BOX", "STACKS", "RUN", "ND 0.9", "TIDE", "PATH, alarm off", "SUN", "MORNINGS", "PLACE", "PLACE NAME" })
        {
            Assert.IsTrue(seen.TryGetValue(name, out int presses) && presses <= Most, $"{name}: {(seen.TryGetValue(name, out int p) ? p : -1)} presses");
        }

        void Explore((Button Button, bool Held)[] path, int depth)
        {
            var rig = new PanelRig();
            // Select is held until it goes on, Down until the fourth card has come.
            foreach ((Button button, bool held) in path) rig.Hold(button, !held ? 100_000 : button == Button.Select ? 700_000 : 1_600_000);
            string name = rig.Panel.ScreenName;
            if (!seen.TryGetValue(name, out int best) || depth < best) seen[name] = depth;
            if (depth == Most) return;
            foreach (Button key in Keys)
            {
                Explore([.. path, (key, false)], depth + 1);
                if (key is Button.Select or Button.Down) Explore([.. path, (key, true)], depth + 1);
            }
        }
    }

    /// <summary>Presses from home to a card, how many fields it has, and which of them are a list to step through.</summary>
    private static IEnumerable<(Button[] Path, int Fields)> Cards()
    {
        yield return ([], 5);
        yield return ([Button.Down, Button.Down], 5);
        yield return ([Button.Down, Button.Down, Button.Down], 6);
        yield return ([Button.Up, Button.Up, Button.Up, Button.Up], 4);
        yield return ([Button.Up, Button.Up], 7);
        yield return ([Button.Up], 6);
        yield return ([Button.Back], 3);
        yield return ([Button.Back, Button.Down], 2);
        yield return ([Button.Back, Button.Down, Button.Down], 1);
        yield return ([Button.Back, Button.Up], 11);
    }

    [TestMethod]
    public void EverySettingChangesOnAPressAndComesBack()
    {
        foreach ((Button[] path, int fields) in Cards())
        {
            for (int field = 0; field < fields; field++)
            {
                PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
                rig.Settings.Waves.Way = Core.Swash.FiringWay.AfterMark;
                rig.Settings.Plan.Shape = Core.Release.PlanShape.Burst;
                rig.Press(path);
                for (int i = 0; i <= field; i++) rig.Press(Button.Select);
                Assert.AreEqual(field, rig.Panel.Field, $"{rig.Panel.ScreenName} field {field}");
                // Setting the clock does nothing before a time was typed in; the screen tests set it.
                if (rig.Panel.ScreenName == "PLACE" && field == 6) continue;
                string before = rig.Ascii();
                // A field that asks at its first press changes at its second, and a switch is not back where it was after three.
                rig.Press(Button.Up, Button.Up, Button.Up);
                string after = rig.Ascii();
                if (before == after)
                {
                    rig.Press(Button.Down);
                    after = rig.Ascii();
                }
                Assert.AreNotEqual(before, after, $"{rig.Panel.ScreenName} field {field} does not change");
            }
        }
    }

    [TestMethod]
    public void AHeldButtonRepeatsAndThenStridesFurther()
    {
        PanelRig rig = new PanelRig().Press(Button.Up, Button.Up, Button.Select, Button.Select);
        int lag = rig.Settings.Camera.ShutterLagMs;
        rig.Hold(Button.Up, 400_000);
        Assert.AreEqual(lag + 5, rig.Settings.Camera.ShutterLagMs, "one step before the first repeat");
        rig.Hold(Button.Up, 1_000_000);
        int afterOne = rig.Settings.Camera.ShutterLagMs;
        Assert.AreEqual(lag + 5 + 5 + 5 * 5, afterOne, "a press and five repeats of 5 ms in one second");
        rig.Hold(Button.Up, 3_000_000);
        Assert.IsTrue(rig.Settings.Camera.ShutterLagMs - afterOne > 200, $"strides after ten repeats: {rig.Settings.Camera.ShutterLagMs - afterOne}");
    }

    [TestMethod]
    public void APressThatOverlapsTheReleaseOfSelectComesAfterIt()
    {
        PanelRig rig = new PanelRig().Press(Button.Down);
        rig.Down(Button.Select);
        rig.Down(Button.Down);
        rig.Up(Button.Select, 20_000);
        rig.Up(Button.Down, 20_000);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        Assert.AreEqual(0, rig.Panel.Field, "in the list");
        rig.Press(Button.Select);
        Assert.IsTrue(rig.Settings.Kit[1].On, "the filter in the next row goes on");
    }

    [TestMethod]
    public void ChangingTheApertureKeepsTheExposure()
    {
        PanelRig rig = new PanelRig().Press(Button.Select, Button.Select, Button.Select);
        double ev = rig.Settings.Base.Ev;
        rig.Press(Button.Up, Button.Up, Button.Up);
        Assert.AreEqual("11", rig.Settings.Base.Aperture.Label);
        Assert.AreEqual("1/30", rig.Settings.Base.Shutter.Label);
        Assert.AreEqual(ev, rig.Settings.Base.Ev);
    }

    [TestMethod]
    public void AFilterIsAddedNamedAndTakenOutByButtons()
    {
        // A new box's kit is full: a filter that one does not own makes room.
        var rig = new PanelRig();
        rig.Settings.Kit.Remove("GRAD 1.2S");
        rig.Press(Button.Down, Button.Select);
        int count = rig.Settings.Kit.Count;
        // Up from the first row goes to the last, which adds one.
        rig.Press(Button.Up, Button.Select);
        Assert.AreEqual(count + 1, rig.Settings.Kit.Count);
        rig.Hold(Button.Select, 700_000);
        for (int i = 0; i < 7; i++) rig.Press(Button.Select);
        rig.Press(Button.Up);
        Assert.AreEqual("GILTER 1", rig.Settings.Kit[count].Name);
        rig.Press(Button.Back, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Up, Button.Up, Button.Back, Button.Back);
        Assert.AreEqual(count, rig.Settings.Kit.Count);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
    }

    /// <summary>The filters that are carried most are on the lens after few presses from LIGHT. A press beyond either end of the list goes to the other end.</summary>
    [TestMethod]
    [DataRow("GRAD 0.9H", 5)]
    [DataRow("ND 3.0", 4)]
    [DataRow("POL", 3)]
    [DataRow("GRAD 0.6H", 8)]
    public void ACommonFilterIsOnTheLensInFewPresses(string name, int most)
    {
        PanelRig rig = new PanelRig().Hold(Button.Select, 700_000);
        int place = rig.Settings.Kit.Find(name), count = rig.Settings.Kit.Count;
        bool down = place <= count - place;
        for (int i = 0; i < (down ? place : count - place); i++) rig.Press(down ? Button.Down : Button.Up);
        rig.Press(Button.Select);
        Assert.IsTrue(rig.Settings.Kit[place].On);
        Assert.IsLessThanOrEqualTo(most, rig.Presses);
    }

    [TestMethod]
    public void AHeldButtonStopsAtTheEndOfTheFilters()
    {
        PanelRig rig = new PanelRig().Hold(Button.Select, 700_000).Hold(Button.Down, 6_000_000).Press(Button.Select);
        Assert.IsTrue(rig.Settings.Kit[FilterKit.Capacity - 1].On, "the last filter goes on");
    }

    [TestMethod]
    public void NothingIsAllocatedWhileARunIsShown()
    {
        var rig = new PanelRig();
        rig.Settings.StepShutter(18);
        for (int i = 0; i < 4; i++) rig.Press(Button.Mark).Pass(7_880_000);
        rig.Press(Button.Down, Button.Down, Button.Down, Button.Fire);
        var frame = new Frame();
        rig.Panel.Draw(frame, rig.Bench.NowUs);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 600; i++)
        {
            rig.Pass(100_000);
            rig.Panel.Draw(frame, rig.Bench.NowUs);
        }
        Assert.AreEqual(0L, GC.GetAllocatedBytesForCurrentThread() - before, "bytes allocated by drawing a run");
    }
}
