using Intervalometer.Drivers.At24c32;
using Intervalometer.Drivers.Composition;
using Intervalometer.Drivers.Ds3231;
using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Faults;
using Intervalometer.Tests.Host.Screens;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>A fatal error is recorded over the restart and reported at the next start. After three in a row the box stays in the safe state.</summary>
[TestClass]
public class RestartTests
{
    private static FaultRig Rig(bool memory = true) => new(new BoardOptions { RestartsOnFault = true, MemoryFitted = memory });

    private static readonly int[] Chips = [Board.DisplayAddress, At24c32.Address, Board.ClockAddress];

    // Power off and on again, with a chip whose transfers throw.
    private static void StartWith(FaultRig rig, int address, Exception error)
    {
        rig.Board.PowerOff();
        rig.Board.Bus.Trouble.Throwing[address] = error;
        rig.Board.PowerOn();
    }

    private static string Shown(Board board) => AsciiPicture.Full(board.Display.Model.Pixel, Frame.Width, Frame.Height);

    private static string Drawn(FaultNote note)
    {
        var frame = new Frame();
        SafeScreen.Draw(frame, note);
        Assert.AreEqual(0, frame.ClippedPixels);
        Assert.AreEqual(0, frame.CoveredPixels);
        Assert.AreEqual(0, frame.MissingGlyphs);
        return AsciiPicture.Full(frame.Pixel, Frame.Width, Frame.Height);
    }

    private static FaultNote Note(FaultKind kind, FaultPlace place, int times)
    {
        var note = new FaultNote();
        for (int i = 0; i < times; i++) note.Happened(kind, place);
        return note;
    }

    [TestMethod]
    public void ThreeFaultsInARowEndInTheSafeStateWithOneScreenAndASlowLamp()
    {
        using FaultRig rig = Rig();
        StartWith(rig, At24c32.Address, new InsufficientMemoryException());
        Assert.AreEqual(3, rig.Board.Restarts);
        Assert.IsTrue(rig.Board.IsDown);
        rig.Pass(2);
        Assert.IsTrue(rig.LinesOpen);
        Assert.AreEqual(Drawn(Note(FaultKind.OutOfMemory, FaultPlace.Start, 3)), Shown(rig.Board));
        foreach (Button button in Enum.GetValues<Button>())
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
        rig.Pass(30);
        Assert.IsTrue(rig.LinesOpen);
        Assert.AreEqual(3, rig.Board.Restarts, "no more restarts");
        long[] lit = [.. rig.Board.Lines.Changes.Where(c => c.Line == Line.Led && c.AtUs > rig.Board.Time.NowUs - 20 * FaultRig.Second).Select(c => c.AtUs)];
        Assert.IsTrue(lit.Length > 15);
        for (int i = 1; i < lit.Length; i++) Assert.AreEqual(SafeState.LampUs, lit[i] - lit[i - 1], 20_000);
        Assert.AreEqual(0, rig.Board.Camera.Frames.Count);
    }

    [TestMethod]
    public void SwitchingOffAndOnTriesAgainAndTellsWhatHappened()
    {
        using FaultRig rig = Rig();
        StartWith(rig, At24c32.Address, new InsufficientMemoryException());
        rig.Board.PowerOff();
        rig.Board.Bus.Trouble.Throwing.Clear();
        rig.Board.PowerOn();
        rig.Pass(1);
        Assert.IsFalse(rig.Board.IsDown);
        Assert.AreEqual("START CHECK", rig.Board.Box!.Panel!.ScreenName);
        Assert.AreEqual("out of memory in start; faults: restarted 3 times", rig.Words);
        rig.Set();
        rig.Pass(0.1);
        rig.Tap(Button.Fire);
        rig.Pass(22);
        rig.ExposedAsPlanned();
    }

    [TestMethod]
    public void ADisplayThatThrowsIsKeptOutOfTheSafeStateUntilItTakesTheScreen()
    {
        using FaultRig rig = Rig();
        StartWith(rig, Board.DisplayAddress, new InsufficientMemoryException());
        Assert.IsTrue(rig.Board.IsDown);
        rig.Pass(15);
        Assert.IsTrue(rig.LinesOpen);
        rig.Board.Bus.Trouble.Throwing.Clear();
        rig.Pass(15);
        Assert.AreEqual(Drawn(Note(FaultKind.OutOfMemory, FaultPlace.Start, 3)), Shown(rig.Board));
    }

    [TestMethod]
    public void WithoutAClockChipNothingCountsSoTheFirstFaultEndsInTheSafeState()
    {
        using FaultRig rig = Rig();
        rig.Board.PowerOff();
        rig.Board.Bus.Trouble.Deaf.Add(Board.ClockAddress);
        rig.Board.PowerOn();
        rig.Pass(5);
        Assert.IsFalse(rig.Board.IsDown, "no chip is no fault");
        StartWith(rig, At24c32.Address, new InvalidOperationException("a test"));
        Assert.AreEqual(0, rig.Board.Restarts);
        Assert.IsTrue(rig.Board.IsDown);
        rig.Pass(2);
        Assert.AreEqual(Drawn(Note(FaultKind.BadState, FaultPlace.Start, 1)), Shown(rig.Board));
    }

    [TestMethod]
    public void EveryChipThatThrowsEndsWithOpenContactsAndWithoutALoop()
    {
        foreach (int address in Chips)
        {
            foreach (bool memory in new[] { true, false })
            {
                using FaultRig rig = Rig(memory);
                StartWith(rig, address, new InsufficientMemoryException());
                rig.Pass(30);
                bool used = memory || address != At24c32.Address;
                Assert.AreEqual(used, rig.Board.IsDown, $"{address:X2}");
                Assert.AreEqual(!used || address == Board.ClockAddress ? 0 : 3, rig.Board.Restarts, $"{address:X2}");
                Assert.IsTrue(rig.LinesOpen);
            }
        }
    }

    [TestMethod]
    public void AFaultOfTheReleaseOpensBothRestartsOnceAndIsReported()
    {
        using FaultRig rig = Rig();
        rig.Tap(Button.Fire, 3_000_000);
        rig.To(9);
        Assert.IsFalse(rig.LinesOpen);
        rig.BreakMark();
        rig.Pass(0.05);
        Assert.IsTrue(rig.LinesOpen);
        Assert.AreEqual(1, rig.Board.Restarts);
        rig.Pass(2);
        Assert.AreEqual("START CHECK", rig.Board.Box!.Panel!.ScreenName);
        Assert.AreEqual("bad state in release; a fault: restarted once", rig.Words);
        Assert.IsTrue(rig.LinesOpen);
    }

    [TestMethod]
    public void AGoodMinuteBetweenFaultsBeginsTheCountAnew()
    {
        using FaultRig rig = Rig();
        for (int i = 0; i < 6; i++)
        {
            rig.Pass(62);
            rig.BreakMark();
            rig.Pass(1);
            Assert.AreEqual("bad state in release; a fault: restarted once", rig.Words);
        }
        Assert.AreEqual(6, rig.Board.Restarts);
        Assert.IsFalse(rig.Board.IsDown);
        rig.Pass(62);
        Assert.IsTrue(rig.Health.Any, "the box says so until it is switched off");
        rig.Board.PowerOff();
        rig.Board.PowerOn();
        rig.Pass(1);
        Assert.IsFalse(rig.Health.Any, "nothing is said after a good minute and a new start");
        for (int i = 0; i < 3; i++)
        {
            rig.BreakMark();
            rig.Pass(20);
        }
        Assert.IsTrue(rig.Board.IsDown, "three with less than a minute between");
    }

    [TestMethod]
    public void AChipThatIsNewOrHoldsAnythingElseIsNoFault()
    {
        using FaultRig rig = Rig();
        var dice = new Random(5);
        for (int i = 0; i < 50; i++)
        {
            rig.Board.PowerOff();
            byte[] message = new byte[1 + FaultNote.Size];
            dice.NextBytes(message);
            message[0] = Ds3231Registers.Alarm1Seconds;
            rig.Board.ClockChip.Write(message);
            rig.Board.PowerOn();
            Assert.IsFalse(rig.Health.Any);
            Assert.IsFalse(rig.Board.IsDown);
        }
    }

    [TestMethod]
    public void TheMemoryCountsEveryFaultAndTheClockChipForgetsIt()
    {
        using FaultRig rig = Rig();
        for (int i = 1; i <= 2; i++)
        {
            rig.Pass(62);
            rig.BreakMark();
            rig.Pass(6);
            Assert.AreEqual(i, rig.Health.Fault.Total);
            Assert.AreEqual(0, rig.Health.Fault.Uncounted);
        }
        rig.Board.PowerOff();
        byte[] cells = rig.Board.Memory.Snapshot();
        var offline = new Intervalometer.VirtualBoard.Memory.OfflineBox(cells);
        Assert.AreEqual(2, offline.Health.Fault.Total);
        Assert.AreEqual("bad state in release", offline.Health.Fault.Words);
    }

    [TestMethod]
    public void AFaultIsReportedInTheStartCheckAndTheSafeStateFitsTheGlass()
    {
        PanelRig rig = new PanelRig().At("2031-03-14T05:30:00Z");
        rig.Panel.Health.MemoryFitted = true;
        rig.Panel.Health.Battery.Take(4050);
        rig.Panel.Health.Fault = Note(FaultKind.OutOfMemory, FaultPlace.Start, 2);
        rig.Panel.Check.Begin(rig.Bench.NowUs, woken: true);
        rig.Pass(100_000);
        GoldenPictures.Check(rig, "check-restarted");
        rig.Press(Button.Up);
        GoldenPictures.Check(rig, "box-restarted");
        GoldenPictures.Check(frame => SafeScreen.Draw(frame, Note(FaultKind.OutOfMemory, FaultPlace.Start, 3)), "safe-state");
        foreach (FaultKind kind in Enum.GetValues<FaultKind>())
        {
            foreach (FaultPlace place in Enum.GetValues<FaultPlace>())
            {
                Drawn(Note(kind, place, 3));
                rig.Panel.Health.Fault = Note(kind, place, 255);
                rig.Draw();
                rig.Panel.Check.Begin(rig.Bench.NowUs, woken: true);
                rig.Draw();
                rig.Panel.Check.End();
            }
        }
    }
}
