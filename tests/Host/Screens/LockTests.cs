using Intervalometer.Core.Run;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The lock: presses by a bag or a sleeve do nothing, the gesture unlocks the buttons, and the box asks before it changes what an accidental press must not change.</summary>
[TestClass]
public class LockTests
{
    private static readonly Button[] All = [Button.Up, Button.Down, Button.Select, Button.Back, Button.Fire, Button.Mark];

    /// <summary>Select held, Back three times.</summary>
    internal static PanelRig Gesture(PanelRig rig, int presses = KeyLock.Presses)
    {
        rig.Down(Button.Select);
        rig.Pass(150_000);
        for (int i = 0; i < presses; i++) rig.Press(Button.Back);
        rig.Up(Button.Select, 700_000);
        return rig.Pass(20_000);
    }

    // Everything that a person can set, and all that marks and frames have left.
    private static string Standing(PanelRig rig)
    {
        byte[] data = new byte[400];
        var bytes = new Bytes(data, data.Length);
        SettingsRecord.Put(rig.Settings, bytes);
        CameraRecord.Put(rig.Settings.Camera, bytes);
        KitRecord.Put(rig.Settings.Kit, bytes);
        Assert.IsFalse(bytes.Bad);
        var shore = rig.Shore;
        return Convert.ToHexString(data) + $" alarm {shore.AlarmOn} up {shore.AlarmUp} offset {shore.Settings.Offset.MinutesAt(shore.Now)} spray {shore.Settings.SprayMinutes}"
            + $" points {shore.Settings.PointCount} clock {shore.Clock.Now(0).Seconds} name {shore.Settings.Name} field {rig.Panel.Field}"
            + $" marks {rig.Bench.Link.Sea.MarkCount} frames {rig.Bench.Link.Frames.Total} runs {rig.Bench.Link.Report.Run} state {rig.Bench.Link.State}";
    }

    [TestMethod]
    public void AHundredThousandPressesOfALockedBoxChangeNothing()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        Gesture(rig);
        Assert.IsTrue(rig.Panel.Locked);
        string before = Standing(rig);
        var random = new Random(5);
        for (int presses = 0; presses < 100_000;)
        {
            Button one = All[random.Next(6)], other = All[random.Next(6)];
            rig.Down(one);
            presses++;
            Pass(rig, random);
            // A second button goes down before the first is let go, as it does in a bag.
            if (other != one && random.Next(2) == 0)
            {
                rig.Down(other);
                presses++;
                Pass(rig, random);
                rig.Up(one, 50_000);
                rig.Up(other, 50_000);
            }
            else rig.Up(one, 50_000);
        }
        rig.Pass(KeyTimer.HoldUs);
        Assert.IsTrue(rig.Panel.Locked);
        Assert.AreEqual(before, Standing(rig));
        Assert.AreEqual(0, rig.Bench.Lines.Count, "contacts that opened or closed");
    }

    // Short and long presses; a long one lets every hold and repeat come.
    private static void Pass(PanelRig rig, Random random)
    {
        if (random.Next(50) == 0) rig.Pass(1_500_000);
        else rig.Panel.Tick(rig.Bench.NowUs);
    }

    [TestMethod]
    public void TheGestureLocksAndUnlocksAndDoesNothingElse()
    {
        PanelRig rig = new PanelRig().Press(Button.Down);
        Gesture(rig);
        Assert.AreEqual("LOCKED", rig.Panel.ScreenName);
        Assert.AreEqual(-1, rig.Panel.Field);
        GoldenPictures.Check(rig, "locked");
        rig.Pass(6_000_000);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        GoldenPictures.Check(rig, "locked-card");
        rig.Press(Button.Up);
        Assert.AreEqual("LOCKED", rig.Panel.ScreenName, "a press says what unlocks it");
        rig.Down(Button.Select);
        rig.Press(Button.Back, Button.Back);
        GoldenPictures.Check(rig, "locked-two-of-three");
        rig.Press(Button.Back).Up(Button.Select, 500_000);
        Assert.IsFalse(rig.Panel.Locked);
        Assert.AreEqual("GLASS", rig.Panel.ScreenName);
        rig.Press(Button.Select);
        Assert.AreEqual(0, rig.Panel.Field, "the buttons work again");
    }

    [TestMethod]
    [DataRow(2)]
    [DataRow(1)]
    public void FewerPressesOrAnotherButtonBetweenLockNothing(int presses)
    {
        var rig = new PanelRig();
        Gesture(rig, presses);
        Assert.IsFalse(rig.Panel.Locked);
        rig.Down(Button.Select);
        rig.Press(Button.Back, Button.Back, Button.Up, Button.Back);
        rig.Up(Button.Select, 500_000);
        Assert.IsFalse(rig.Panel.Locked);
    }

    [TestMethod]
    public void TheBoxLocksByItselfWhenThatIsSwitchedOnAndNotDuringARun()
    {
        PanelRig rig = new PanelRig().Press(Button.Up, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Up, Button.Up);
        Assert.AreEqual(2, rig.Settings.LockMinutes);
        rig.Press(Button.Back, Button.Back);
        rig.Settings.AlwaysBulb = true;
        rig.Settings.StepShutter(33);
        rig.Settings.SetBase(rig.Settings.Base);
        rig.Settings.Plan.Shape = Core.Release.PlanShape.Series;
        rig.Settings.Plan.Frames = 5;
        rig.Settings.Plan.IntervalUs = 40_000_000;
        rig.Press(Button.Fire).Pass(150_000_000);
        Assert.IsTrue(rig.Bench.Link.Report.Running);
        Assert.IsFalse(rig.Panel.Locked);
        rig.Press(Button.Fire).Pass(110_000_000);
        Assert.IsFalse(rig.Panel.Locked);
        rig.Pass(15_000_000);
        Assert.IsTrue(rig.Panel.Locked);
    }

    [TestMethod]
    public void ADeepSleepKeepsTheLockAndSwitchingOnOpensIt()
    {
        var rig = new PanelRig();
        Gesture(rig);
        rig.Panel.Begin(rig.Bench.NowUs, woken: true);
        Assert.IsTrue(rig.Panel.Locked);
        rig.Press(Button.Mark, Button.Fire);
        Assert.AreEqual(0, rig.Bench.Link.Sea.MarkCount);
        Assert.AreEqual(0, rig.Bench.Desk.Runs);
        rig.Panel.Begin(rig.Bench.NowUs, woken: false);
        Assert.IsFalse(rig.Panel.Locked);
    }

    [TestMethod]
    public void TheLockIsKeptInTheMemory()
    {
        var settings = new BoxSettings { Locked = true, LockMinutes = 7 };
        byte[] data = new byte[80];
        var bytes = new Bytes(data, data.Length);
        SettingsRecord.Put(settings, bytes);
        var read = new BoxSettings();
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, bytes.At)));
        Assert.IsTrue(read.Locked);
        Assert.AreEqual(7, read.LockMinutes);
        Assert.IsTrue(SettingsRecord.Take(read, new Bytes(data, bytes.At - 9)), "a record of older firmware");
    }

    [TestMethod]
    public void AnAlarmOfALockedBoxIsNotSilencedByASlip()
    {
        PanelRig rig = new PanelRig().At("2031-03-19T10:30:00Z");
        rig.Shore.SetAlarm(true);
        Gesture(rig);
        for (int i = 0; i < 3000 && !rig.Shore.AlarmUp; i++) rig.Pass(1_000_000);
        Assert.IsTrue(rig.Shore.AlarmUp);
        rig.Press(Button.Up, Button.Mark, Button.Fire);
        Assert.IsTrue(rig.Shore.AlarmUp);
        GoldenPictures.Check(rig, "locked-alarm");
        Gesture(rig).Press(Button.Up);
        Assert.IsFalse(rig.Shore.AlarmUp);
    }

    [TestMethod]
    public void AFilterIsTakenOutOnlyByASecondPressAndOnlyWhenItsCardIsLeft()
    {
        PanelRig rig = new PanelRig().Press(Button.Down, Button.Select).Hold(Button.Select, 700_000);
        int count = rig.Settings.Kit.Count;
        for (int i = 0; i < 6; i++) rig.Press(Button.Select);
        rig.Hold(Button.Up, 3_000_000);
        Assert.AreEqual(count, rig.Settings.Kit.Count, "one press only asks, however long it is");
        GoldenPictures.Check(rig, "filter-sure");
        string name = rig.Settings.Kit[0].Name;
        rig.Press(Button.Up);
        GoldenPictures.Check(rig, "filter-comes-out");
        Assert.AreEqual(count, rig.Settings.Kit.Count, "the stack can still be kept");
        rig.Press(Button.Down, Button.Back, Button.Back);
        Assert.AreEqual(count, rig.Settings.Kit.Count);
        rig.Hold(Button.Select, 700_000);
        for (int i = 0; i < 6; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up, Button.Back, Button.Back);
        Assert.AreEqual(count - 1, rig.Settings.Kit.Count);
        Assert.AreEqual(-1, rig.Settings.Kit.Find(name));
        Assert.AreEqual("GLASS", rig.Panel.ScreenName[..5]);
    }

    [TestMethod]
    public void GoingHomeTakesTheFilterOutAsWell()
    {
        PanelRig rig = new PanelRig().Press(Button.Down, Button.Select).Hold(Button.Select, 700_000);
        int count = rig.Settings.Kit.Count;
        for (int i = 0; i < 6; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up).Hold(Button.Back, 1_200_000);
        Assert.AreEqual("LIGHT", rig.Panel.ScreenName);
        Assert.AreEqual(count - 1, rig.Settings.Kit.Count);
    }

    [TestMethod]
    public void SelectHeldPutsAPathFigureBack()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Down, Button.Select, Button.Select, Button.Select);
        int flood = rig.Shore.Settings.FloodCentimetres(0);
        rig.Press(Button.Down, Button.Down, Button.Down).Hold(Button.Down, 3_000_000);
        Assert.IsLessThan(flood - 20, rig.Shore.Settings.FloodCentimetres(0));
        GoldenPictures.Check(rig, "path-put-back");
        rig.Hold(Button.Select, 700_000);
        Assert.AreEqual(flood, rig.Shore.Settings.FloodCentimetres(0));
        Assert.AreEqual(2, rig.Panel.Field, "the field stays open");
        rig.Press(Button.Down);
        Assert.AreEqual(flood, rig.Shore.Settings.FloodCentimetres(0), "the panel asks again");
    }

    [TestMethod]
    public void SelectHeldPutsTheNumberOfLowPointsAndTheOffsetBack()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Down, Button.Select, Button.Select);
        int points = rig.Shore.Settings.PointCount, flood = rig.Shore.Settings.FloodCentimetres(points - 1);
        rig.Press(Button.Down, Button.Down, Button.Down);
        Assert.IsLessThan(points, rig.Shore.Settings.PointCount);
        rig.Hold(Button.Select, 700_000);
        Assert.AreEqual(points, rig.Shore.Settings.PointCount);
        Assert.AreEqual(flood, rig.Shore.Settings.FloodCentimetres(points - 1));
        PanelRig place = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Up, Button.Select, Button.Up, Button.Up, Button.Up);
        Assert.AreEqual(30, place.Shore.Settings.Offset.MinutesAt(place.Shore.Now));
        place.Hold(Button.Select, 700_000);
        Assert.AreEqual(0, place.Shore.Settings.Offset.MinutesAt(place.Shore.Now));
    }

    [TestMethod]
    public void SelectHeldPutsAClockBackThatWasSet()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Up);
        for (int i = 0; i < 5; i++) rig.Press(Button.Select);
        rig.Press(Button.Up, Button.Up, Button.Select, Button.Select, Button.Up, Button.Up);
        Assert.AreEqual(7_200.0, rig.Shore.Now.SecondsSince(new Coast.Time.CivilTime(2031, 3, 14, 5, 30, 0).AsUtc()), 30.0);
        GoldenPictures.Check(rig, "place-clock-put-back");
        rig.Hold(Button.Select, 700_000);
        Assert.AreEqual(0.0, rig.Shore.Now.SecondsSince(new Coast.Time.CivilTime(2031, 3, 14, 5, 30, 0).AsUtc()), 60.0);
        // A clock that was never set has nothing to go back to.
        var unset = new PanelRig();
        unset.Press(Button.Back, Button.Up);
        for (int i = 0; i < 5; i++) unset.Press(Button.Select);
        unset.Press(Button.Up, Button.Select, Button.Select, Button.Up, Button.Up);
        Assert.IsTrue(unset.Shore.Clock.IsSet);
        long now = unset.Shore.Now.Seconds;
        unset.Hold(Button.Select, 700_000);
        Assert.AreEqual(now, unset.Shore.Now.Seconds, 2L);
    }

    [TestMethod]
    public void APathFigureChangesOnlyOnASecondPress()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Down, Button.Select, Button.Select, Button.Select);
        int flood = rig.Shore.Settings.FloodCentimetres(0);
        rig.Hold(Button.Down, 2_000_000);
        Assert.AreEqual(flood, rig.Shore.Settings.FloodCentimetres(0));
        GoldenPictures.Check(rig, "path-sure");
        rig.Press(Button.Down);
        Assert.AreEqual(flood - 10, rig.Shore.Settings.FloodCentimetres(0));
        rig.Press(Button.Down);
        Assert.AreEqual(flood - 20, rig.Shore.Settings.FloodCentimetres(0), "it goes further while one button stays down");
        rig.Press(Button.Back, Button.Select, Button.Select, Button.Select, Button.Down);
        Assert.AreEqual(flood - 20, rig.Shore.Settings.FloodCentimetres(0), "the panel asks again after the field was left");
    }

    [TestMethod]
    public void TheAlarmGoesOffOnlyOnASecondPressAndOnAtTheFirst()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Down, Button.Select, Button.Up);
        Assert.IsTrue(rig.Shore.AlarmOn);
        rig.Press(Button.Up);
        Assert.IsTrue(rig.Shore.AlarmOn);
        rig.Press(Button.Up);
        Assert.IsFalse(rig.Shore.AlarmOn);
    }

    [TestMethod]
    public void TheClockAndItsOffsetChangeOnlyOnASecondPress()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z").Press(Button.Back, Button.Up, Button.Select);
        int offset = rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now);
        rig.Press(Button.Up);
        Assert.AreEqual(offset, rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now));
        rig.Press(Button.Up);
        Assert.AreEqual(offset + 15, rig.Shore.Settings.Offset.MinutesAt(rig.Shore.Now));
        long before = rig.Shore.Clock.Now(0).Seconds;
        rig.Press(Button.Select, Button.Select, Button.Select, Button.Select, Button.Up, Button.Select, Button.Select, Button.Up);
        Assert.AreEqual(before, rig.Shore.Clock.Now(0).Seconds);
        rig.Press(Button.Up);
        Assert.IsTrue(Math.Abs(rig.Shore.Clock.Now(0).Seconds - before - 3600) < 120, "the clock stands an hour later");
    }

    /// <summary>Through the pins of the whole box: a bag of presses on a locked board leaves both contacts alone.</summary>
    [TestMethod]
    public void TheWholeBoxIsDeafWhileLocked()
    {
        using var board = new Board(new BoardOptions());
        board.RunUntil(4_000_000);
        board.Down(Button.Select);
        for (int i = 0; i < 3; i++) board.Press(Button.Back, 4_200_000 + i * 300_000, 120_000);
        board.RunUntil(5_200_000);
        board.Up(Button.Select);
        board.RunUntil(5_400_000);
        Assert.IsTrue(board.Box!.Panel!.Locked);
        for (int i = 0; i < 120; i++) board.Press(All[i % 6], 5_500_000 + i * 200_000, 120_000);
        board.RunUntil(40_000_000);
        Assert.AreEqual(0, board.Box.Desk!.Runs);
        Assert.AreEqual(0, board.Box.Link!.Sea.MarkCount);
        Assert.AreEqual(0, board.Camera.Frames.Count);
        Assert.IsTrue(board.Box.Panel.Locked);
    }
}
