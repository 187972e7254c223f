using Intervalometer.Coast.Place;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>When memory runs short in the whole box, it gives parts up in their order and says so. Exposures, stop and alarm go on.</summary>
[TestClass]
public class ShortMemoryTests
{
    private sealed class Gauge(int free) : IHeapGauge
    {
        public int Asked { get; private set; }

        public int FreeBytes
        {
            get
            {
                Asked++;
                return free;
            }
        }
    }

    // An hour at which the path is open for hours.
    private static readonly BoardOptions Morning = new() { StartUtc = new DateTime(2031, 3, 19, 5, 0, 0, DateTimeKind.Utc) };

    private static FaultRig Rig(out HungryTide tide) => new(Morning with { Place = HungryTide.Site(out tide) });

    private static ShoreDesk Shore(FaultRig rig) => rig.Board.Box!.Shore;

    private static void Press(FaultRig rig, params Button[] buttons)
    {
        foreach (Button button in buttons)
        {
            rig.Tap(button);
            rig.Pass(0.4);
        }
    }

    // Home, then the shore's ring, whose cards are TIDE, PATH, SUN, MORNINGS, PLACE.
    private static void ToMornings(FaultRig rig) => Press(rig, Button.Back, Button.Down, Button.Down, Button.Down);

    private static void ExposeAndStop(FaultRig rig)
    {
        Press(rig, Button.Back);
        rig.Tap(Button.Fire);
        rig.Pass(22);
        rig.ExposedAsPlanned();
        Press(rig, Button.Back);
        rig.Tap(Button.Fire);
        rig.Pass(8);
        Assert.IsFalse(rig.LinesOpen, "the second exposure is on");
        rig.Tap(Button.Fire);
        rig.Pass(0.05);
        Assert.IsTrue(rig.LinesOpen, "one press stopped the run");
    }

    // The alarm that is switched on now sounds at its time.
    private static void AlarmSounds(FaultRig rig)
    {
        ShoreDesk shore = Shore(rig);
        shore.SetAlarm(true);
        rig.Pass(2);
        Assert.IsTrue(shore.WayReady);
        Assert.AreEqual(WayBackState.Open, shore.Way.State);
        double left = shore.Way.SecondsLeft(shore.Now);
        rig.Pass(left - ShoreDesk.PackUpSoonMinutes * 60 + 60);
        Assert.IsTrue(shore.AlarmUp);
        Assert.AreEqual(WayBackLevel.PackUpSoon, shore.Level);
        Assert.AreEqual("ALARM", rig.Board.Box!.Panel!.ScreenName);
    }

    [TestMethod]
    public void TheSearchForMorningsIsGivenUpFirstAndNothingElse()
    {
        using FaultRig rig = Rig(out HungryTide tide);
        rig.To(30);
        Assert.IsTrue(Shore(rig).CurveReady);
        tide.WalkersLeft = 0;
        ToMornings(rig);
        rig.Pass(20);
        Assert.AreEqual(1, tide.RanOut);
        Assert.AreEqual(1, Shore(rig).Spare.GivenUp);
        Assert.IsNull(Shore(rig).Search);
        Assert.IsTrue(Shore(rig).CurveReady);
        Assert.AreEqual("MORNINGS", rig.Board.Box!.Panel!.ScreenName);
        Assert.AreEqual(0, rig.Health.ScreenFaults, "the box named the fault rightly");
        Assert.AreEqual("no search for mornings; exposure, stop, alarm work", rig.Words);
        ExposeAndStop(rig);
    }

    [TestMethod]
    public void TheAlarmSoundsWhenAllThatCanBeWasGivenUp()
    {
        using FaultRig rig = Rig(out _);
        rig.To(10);
        while (Shore(rig).GiveUp())
        {
        }
        Assert.AreEqual(SpareParts.Count, Shore(rig).Spare.GivenUp);
        AlarmSounds(rig);
    }

    [TestMethod]
    public void TheCurveIsGivenUpAfterTheSearchAndTheWayBackStays()
    {
        using FaultRig rig = Rig(out HungryTide tide);
        while (!Shore(rig).WayReady) rig.Pass(0.01);
        tide.WalkersLeft = 0;
        rig.Pass(20);
        Assert.AreEqual(2, tide.RanOut, "the box tried once more after it gave up the first");
        Assert.AreEqual(2, Shore(rig).Spare.GivenUp);
        Assert.IsNull(Shore(rig).Curve);
        Assert.IsTrue(Shore(rig).Sun.Done, "the sun goes on");
        Press(rig, Button.Back);
        Assert.AreEqual("TIDE", rig.Board.Box!.Panel!.ScreenName);
        Assert.AreEqual("no mornings, no tide curve; exposure, stop, alarm work", rig.Words);
        tide.WalkersLeft = int.MaxValue;
        rig.Pass(20);
        Assert.AreEqual(2, tide.RanOut);
        Assert.IsNull(Shore(rig).Curve, "it comes back with the next start, not by itself");
        AlarmSounds(rig);
    }

    [TestMethod]
    public void AScreenThatFindsNoMemoryIsDrawnAnewWhenSomethingWasGivenUp()
    {
        using FaultRig rig = Rig(out HungryTide tide);
        rig.To(30);
        Press(rig, Button.Back);
        rig.Pass(1.5);
        string picture = rig.Screen();
        tide.LooksLeft = 0;
        while (tide.RanOut == 0) rig.Pass(0.01);
        tide.LooksLeft = int.MaxValue;
        rig.Pass(0.3);
        Assert.AreEqual(1, Shore(rig).Spare.GivenUp);
        Assert.AreEqual(0, rig.Health.ScreenFaults);
        Assert.IsTrue(Same(picture, rig.Screen()), "the tide is shown, with the sign for BOX");
    }

    // The same except for the heading, which now shows the mark for trouble, and the line in which the caution comes and goes.
    private static bool Same(string before, string after)
    {
        string[] was = before.Split(' '), now = after.Split(' ');
        return was.AsSpan(160, 720).SequenceEqual(now.AsSpan(160, 720));
    }

    [TestMethod]
    public void WithNothingLeftToGiveUpTheErrorIsReportedAndTheWorkRests()
    {
        using FaultRig rig = Rig(out HungryTide tide);
        while (!Shore(rig).WayReady) rig.Pass(0.01);
        Press(rig, Button.Back);
        tide.LooksLeft = 0;
        rig.Pass(30);
        Assert.AreEqual(SpareParts.Count, Shore(rig).Spare.GivenUp);
        Assert.IsTrue(rig.Health.ScreenFaults > 0);
        // The way back begins again, and there is no memory for it either.
        Assert.AreEqual("the shore failed", rig.Health.Failed(0));
        ExposeAndStop(rig);
    }

    [TestMethod]
    public void APlaceWhoseWayBackFindsNoMemoryIsAnAlarmAndNeverTheOldPlace()
    {
        using FaultRig rig = Rig(out HungryTide tide);
        rig.To(30);
        Shore(rig).SetAlarm(true);
        rig.Pass(5);
        Assert.IsFalse(Shore(rig).AlarmUp);
        tide.WalkersLeft = 0;
        Shore(rig).Settings.Touch();
        rig.Pass(60);
        Assert.IsFalse(Shore(rig).WayReady);
        Assert.IsTrue(Shore(rig).AlarmUp, "a state that is not known counts as trouble");
        Assert.AreEqual("the shore failed", rig.Health.Failed(4_000_000 * 0));
        tide.WalkersLeft = int.MaxValue;
        rig.Pass(20);
        Assert.IsTrue(Shore(rig).WayReady, "the box works the way back out again");
    }

    [TestMethod]
    public void AGaugeThatShowsLittleMemoryGivesPartsUpBeforeItRunsOut()
    {
        var gauge = new Gauge(5_400);
        using var rig = new FaultRig(Morning with { HeapGauge = gauge });
        rig.To(30);
        Assert.AreEqual(2, Shore(rig).Spare.GivenUp);
        Assert.IsTrue(gauge.Asked is 3, $"asked {gauge.Asked} times: only when a part begins");
        Press(rig, Button.Up);
        Assert.AreEqual("BOX", rig.Board.Box!.Panel!.ScreenName);
        AlarmSounds(rig);
    }

    /// <summary>With less memory than the quick walk along the tide takes, everything is given up and the box says so. The alarm still sounds at its time.</summary>
    [TestMethod]
    public void WithTheLeastMemoryTheWayBackIsWorkedOutSlowly()
    {
        var gauge = new Gauge(4_100);
        using var rig = new FaultRig(Morning with { HeapGauge = gauge });
        rig.To(30);
        Assert.AreEqual(SpareParts.Count, Shore(rig).Spare.GivenUp);
        Assert.IsTrue(Shore(rig).WayReady);
        Assert.IsTrue(rig.Words.StartsWith("no mornings, tide, list; PATH slow", StringComparison.Ordinal), rig.Words);
        AlarmSounds(rig);
        Press(rig, Button.Mark);
        ExposeAndStop(rig);
    }

    [TestMethod]
    public void AGaugeThatShowsEnoughGivesNothingUp()
    {
        using var rig = new FaultRig(Morning with { HeapGauge = new Gauge(8_000) });
        rig.To(30);
        ToMornings(rig);
        rig.Pass(60);
        Assert.AreEqual(0, Shore(rig).Spare.GivenUp);
        Assert.IsTrue(Shore(rig).Search!.Done);
    }

    [TestMethod]
    public void TheGaugeIsNotAskedDuringARun()
    {
        var gauge = new Gauge(40_000);
        using var rig = new FaultRig(Morning with { HeapGauge = gauge });
        rig.To(30);
        Press(rig, Button.Up);
        rig.Pass(6);
        int before = gauge.Asked;
        Assert.IsTrue(before > 2, "BOX asks");
        rig.Tap(Button.Fire);
        rig.Pass(0.2);
        int started = gauge.Asked;
        rig.Pass(17);
        Assert.AreEqual(started, gauge.Asked);
        rig.Pass(5);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void WhatWasGivenUpIsReportedOnItsCardOnBoxAndInTheStartCheck()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        rig.Panel.Health.MemoryFitted = true;
        rig.Shore.Spare.Gauge = new Gauge(21_480);
        rig.Press(Button.Up);
        GoldenPictures.Check(rig, "box-memory-free");
        rig.Press(Button.Down);
        rig.Shore.GiveUp();
        rig.Press(Button.Back, Button.Down, Button.Down, Button.Down);
        GoldenPictures.Check(rig, "mornings-given-up");
        rig.Shore.GiveUp();
        rig.Press(Button.Up, Button.Up, Button.Up);
        GoldenPictures.Check(rig, "tide-given-up");
        rig.Press(Button.Back, Button.Up);
        GoldenPictures.Check(rig, "box-given-up");
        rig.Panel.Check.Begin(rig.Bench.NowUs, woken: false);
        rig.Panel.Health.Battery.Take(4050);
        rig.Pass(100_000);
        GoldenPictures.Check(rig, "check-given-up");
        rig.Shore.GiveUp();
        rig.Draw();
        rig.Press(Button.Up).Draw();
    }
}
