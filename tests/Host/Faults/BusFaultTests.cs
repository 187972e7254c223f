using Intervalometer.Coast.Tide;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>Display, memory and bus fail while the shutter is open: the exposure is as long as planned, and the box says what happened.</summary>
[TestClass]
public class BusFaultTests
{
    private const int Display = Board.DisplayAddress;
    private const int Memory = 0x57;

    // Fire at 3 s, shutter open from about 5 s to 21 s.
    private static FaultRig Exposing()
    {
        var rig = new FaultRig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        return rig;
    }

    private static string UndisturbedScreen(double at)
    {
        using FaultRig rig = Exposing();
        rig.To(at);
        return rig.Screen();
    }

    [TestMethod]
    public void NothingWrongSaysNothing()
    {
        using FaultRig rig = Exposing();
        rig.To(30);
        rig.ExposedAsPlanned();
        Assert.IsFalse(rig.Health.Any, rig.Words);
        Assert.AreEqual(0, rig.Board.Bus.Violations.Count);
        Assert.AreEqual(0, rig.Board.PinFaults.Count);
    }

    [TestMethod]
    public void ADisplayUnpluggedForAWhileComesBack()
    {
        using FaultRig rig = Exposing();
        rig.Board.Display.Model.Connected = false;
        rig.To(14);
        Assert.IsFalse(rig.Board.Box!.DisplayReady);
        rig.Board.Display.Model.PowerCycle();
        rig.Board.Display.Model.Connected = true;
        rig.To(30);
        rig.ExposedAsPlanned();
        Assert.AreEqual(UndisturbedScreen(30), rig.Screen());
        Assert.IsTrue(rig.Board.Display.Model.Registers.DisplayOn);
        Assert.AreEqual("display was lost a while; runs went on meanwhile", rig.Words);
    }

    /// <summary>No transfer happens at that moment, so no missing acknowledge shows the fault; only the dark display does.</summary>
    [TestMethod]
    public void ADisplayThatStartsAnewUnnoticedComesBack()
    {
        using FaultRig rig = Exposing();
        rig.To(30);
        rig.Board.Display.Model.PowerCycle();
        rig.Pass(5);
        Assert.AreEqual(UndisturbedScreen(35), rig.Screen());
        Assert.IsTrue(rig.Board.Display.Model.Registers.DisplayOn);
    }

    [TestMethod]
    public void ADisplayThatNeverAnswersDoesNotStopARun()
    {
        using var rig = new FaultRig(new BoardOptions { DisplayFitted = false });
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(30);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void AStuckDataLineCostsNoExposure()
    {
        using FaultRig rig = Exposing();
        rig.Board.Bus.Trouble.StuckData = true;
        rig.To(30);
        rig.ExposedAsPlanned();
        Assert.IsTrue(rig.Board.Bus.Trouble.Hits <= 3, $"a hung bus was tried {rig.Board.Bus.Trouble.Hits} times");
        rig.Board.Bus.Trouble.StuckData = false;
        rig.Pass(20);
        Assert.IsTrue(rig.Board.Box!.DisplayReady);
        Assert.AreEqual("display was lost a while; runs went on meanwhile", rig.Words);
        rig.Pass(10);
        Assert.IsTrue(rig.Board.Box!.Keeper!.Settled);
        Assert.AreEqual(1, rig.Board.Box!.Keeper!.Logbook.Count);
    }

    /// <summary>Once the box knows that the bus hangs, a stop must not wait for the bus.</summary>
    [TestMethod]
    public void AStopIsAtOnceOnAHungBus()
    {
        using FaultRig rig = Exposing();
        rig.Board.Bus.Trouble.StuckData = true;
        for (double at = 11; at < 18; at += 0.37)
        {
            rig.To(at);
            Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        }
        rig.Tap(Button.Fire, 18_000_000);
        rig.To(18.012);
        Assert.IsTrue(rig.LinesOpen, "one pass of the loop and two pin writes after the press");
    }

    /// <summary>Pin events come late when the bus holds the runtime up; a late one must not count as a second press, which would stop the run.</summary>
    [TestMethod]
    public void ASlowBusCostsNoEdge()
    {
        using var rig = new FaultRig();
        rig.Board.Bus.Trouble.Slower = 60;
        rig.To(2);
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(30);
        rig.ExposedAsPlanned();
    }

    /// <summary>
    /// A picture, a save and a press at the same time, on a bus that is 20 to 200 times too slow, so that a page takes 60 to 600 ms. Wherever the press falls, it
    /// counts as one press, the heartbeat does not stop for so long that the limiter opens the contacts, and the edges are in time.
    /// </summary>
    [TestMethod]
    public void AVerySlowBusCostsNoFrameWheneverFireIsPressed()
    {
        foreach (int slower in new[] { 20, 60, 120, 200 })
        {
            for (long at = 2_400_000; at < 9_000_000; at += 471_777)
            {
                using var rig = new FaultRig();
                rig.To(1.5);
                rig.Board.Box!.Settings.Brightness = 7;
                rig.Board.Box.Settings.Waves.Minutes = 30;
                rig.Board.Bus.Trouble.Slower = slower;
                rig.Tap(Button.Fire, at);
                rig.To(at / 1e6 + 25);
                rig.ExposedAsPlanned();
            }
        }
    }

    /// <summary>A page that takes 1.8 s would stop the heartbeat for longer than any limiter holds.</summary>
    [TestMethod]
    public void OnABusKnownToBeTooSlowThePictureStandsDuringARun()
    {
        using var rig = new FaultRig();
        rig.Board.Bus.Trouble.Slower = 200;
        rig.To(8);
        Assert.IsTrue(rig.Health.BusSlow);
        rig.Tap(Button.Fire, 9_000_000);
        rig.To(12);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        rig.Board.Bus.Trouble.Slower = 600;
        rig.To(40);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void ABusTooSlowForTheHeartbeatIsReportedAndForgottenWhenItIsWell()
    {
        using var rig = new FaultRig();
        rig.To(2);
        rig.Board.Bus.Trouble.Slower = 60;
        rig.Tap(Button.Down);
        rig.Pass(6);
        Assert.IsFalse(rig.Health.Any, rig.Words);
        rig.Board.Bus.Trouble.Slower = 200;
        rig.Tap(Button.Down);
        rig.Pass(12);
        Assert.AreEqual("display wiring is slow; runs go on, picture stands", rig.Words);
        rig.Board.Bus.Trouble.Slower = 1;
        for (int i = 0; i < 6; i++)
        {
            rig.Tap(Button.Down);
            rig.Pass(2);
        }
        Assert.IsFalse(rig.Health.Any, rig.Words);
    }

    [TestMethod]
    public void GarbledBytesReachNeitherTheLinesNorWhatIsKept()
    {
        using FaultRig rig = Exposing();
        rig.Board.Bus.Trouble.GarbledShare = 0.003;
        rig.To(40);
        rig.ExposedAsPlanned();
        for (int i = 0; i < 12; i++)
        {
            rig.Board.Box!.Settings.StepShutter(-1);
            rig.Board.Box.Settings.Brightness = i % 10;
            rig.Pass(6);
        }
        Assert.IsTrue(rig.Board.Bus.Trouble.Hits > 20, $"{rig.Board.Bus.Trouble.Hits}");
        rig.Board.Bus.Trouble.GarbledShare = 0;
        rig.Pass(10);
        Assert.IsTrue(rig.Board.Box!.Keeper!.Settled);
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        Assert.AreEqual(0, rig.Board.Box!.Settings.Base.Shutter.Index);
        Assert.AreEqual(1, rig.Board.Box.Settings.Brightness);
        // A changed address may overwrite a page of another record. Then the other copy of that record is used, and the box says so.
        Assert.IsFalse(rig.Health.MemoryKeepsNothing);
        Assert.AreEqual(DemoSite.Load().Place.Name, rig.Board.Box.Shore.Settings.Name);
        Assert.AreNotEqual(TideCertainty.None, rig.Board.Box.Shore.Settings.Place.Tide.CertaintyAt(rig.Board.Box.Shore.Now));
    }

    [TestMethod]
    public void AMemoryThatGoesSilentIsReportedAndCaughtUpWith()
    {
        using FaultRig rig = Exposing();
        rig.Board.Bus.Trouble.Deaf.Add(Memory);
        rig.To(30);
        rig.ExposedAsPlanned();
        Assert.AreEqual("memory does not answer; box works, nothing is kept", rig.Words);
        rig.Board.Box!.Settings.StepShutter(1);
        rig.Pass(10);
        rig.Board.Bus.Trouble.Deaf.Clear();
        rig.Pass(10);
        Assert.IsFalse(rig.Health.Any, rig.Words);
        Assert.IsTrue(rig.Board.Box.Keeper!.Settled);
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        Assert.AreEqual(13, rig.Board.Box!.Settings.Base.Shutter.Index);
        Assert.AreEqual(1, rig.Board.Box.Keeper!.Logbook.Count);
    }

    [TestMethod]
    public void BothChipsSilentFromTheStartStillExpose()
    {
        using var rig = new FaultRig();
        rig.Board.Bus.Trouble.Deaf.Add(Memory);
        rig.Board.Bus.Trouble.Deaf.Add(Display);
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        rig.Set();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(30);
        rig.ExposedAsPlanned();
        Assert.AreEqual(MemoryTrouble.Silent, rig.Health.Memory);
        // What the user has set meanwhile is not undone when the memory answers again.
        rig.Board.Bus.Trouble.Deaf.Clear();
        rig.Pass(20);
        Assert.AreEqual(12, rig.Board.Box!.Settings.Base.Shutter.Index);
        Assert.IsTrue(rig.Board.Box.Keeper!.Settled);
    }

    [TestMethod]
    public void AMemoryFullOfNoiseIsReportedLeftAloneAndOverwrittenOnRequestOnly()
    {
        var noise = new byte[4096];
        new Random(6).NextBytes(noise);
        using var rig = new FaultRig(new BoardOptions { MemoryHolds = noise });
        Assert.AreEqual("memory is unreadable; box works, memory untouched", rig.Words);
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(30);
        rig.ExposedAsPlanned();
        CollectionAssert.AreEqual(noise, rig.Board.Memory.Snapshot());
        // Any button, then Up to the BOX card, its seventh field, Up for "overwrite".
        foreach (Button button in new[] { Button.Mark, Button.Up, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select })
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
        CollectionAssert.AreEqual(noise, rig.Board.Memory.Snapshot());
        rig.Tap(Button.Up);
        rig.Pass(10);
        Assert.IsFalse(rig.Health.Any, rig.Words);
        Assert.IsTrue(rig.Board.Box!.Keeper!.Settled);
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        Assert.AreEqual(12, rig.Board.Box!.Settings.Base.Shutter.Index);
        Assert.AreEqual(RecordStatus.Good, rig.Board.Box.Keeper!.Records.Status(RecordId.Settings));
        Assert.AreEqual(1, rig.Board.Box.Keeper.Logbook.Count);
    }

    /// <summary>Each transfer on a hung bus blocks the release for a second. Once the box knows that the bus hangs, it does not use it until the run has ended.</summary>
    [TestMethod]
    public void AHungBusIsTriedOnceInALongRun()
    {
        using var rig = new FaultRig();
        // Four stops more than 16 s: four minutes.
        BoxSettings settings = rig.Board.Box!.Settings;
        var grey = new Core.Exposure.Filter("GREY", Core.Exposure.FilterKind.Nd) { On = true };
        grey.SetStrength(Core.Exposure.FilterScale.Stops, 400);
        settings.Kit = new Core.Exposure.FilterKit();
        settings.Kit.Add(grey);
        settings.Solve();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        rig.Board.Bus.Trouble.StuckData = true;
        rig.To(120);
        Assert.IsNotNull(rig.Board.Camera.OpenSinceUs);
        Assert.AreEqual(1, rig.Board.Bus.Trouble.Hits);
    }
}
