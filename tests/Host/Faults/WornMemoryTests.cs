using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.Settings.Store;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Memory;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>Cells of the memory are worn out, or it does not answer at all. The box is used by its buttons, then switched off and on.</summary>
[TestClass]
public class WornMemoryTests
{
    private const long Second = 1_000_000;
    private const int Cell = 17;

    private static FaultRig Rig(BoardOptions? options = null)
    {
        var rig = new FaultRig(options);
        rig.Pass(3);
        return rig;
    }

    // A page in which one bit never changes again. The bit stays as it reads in a new memory.
    private static void Stick(Board board, int page, byte bit = 0x10) => board.Memory.Stick(page * StoreMap.PageBytes + Cell, bit, 0);

    // Every bit of a cell stuck: no page fits by chance.
    private static void StickWhole(Board board, int page)
    {
        for (int i = 0; i < 4; i++) board.Memory.Stick(page * StoreMap.PageBytes + i, 0xFF, 0x5A);
    }

    // Up from home is the box's card, and its third field the brightness.
    private static void Brighter(FaultRig rig)
    {
        foreach (Button button in new[] { Button.Up, Button.Select, Button.Select, Button.Select, Button.Up, Button.Back, Button.Back })
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
    }

    private static void Restart(FaultRig rig)
    {
        rig.Board.PowerOff();
        rig.Pass(1);
        rig.Board.PowerOn();
        rig.Pass(3);
    }

    // Frames of half a second, one run of this many.
    private static void Take(FaultRig rig, int frames)
    {
        BoxSettings settings = rig.Board.Box!.Settings;
        settings.Plan.Shape = PlanShape.Series;
        settings.Plan.Frames = frames;
        settings.Plan.IntervalUs = 3 * Second;
        settings.SetBase(new Core.Exposure.MeteredBase(new Core.Exposure.ApertureSetting(18), new Core.Exposure.IsoSetting(0), new Core.Exposure.ShutterSetting(-3), 0));
        rig.Pass(0.5);
        int before = rig.Board.Camera.Frames.Count;
        rig.Tap(Button.Fire);
        rig.Pass(5 + 3 * frames);
        Assert.AreEqual(before + frames, rig.Board.Camera.Frames.Count);
        rig.Tap(Button.Fire);
        rig.Pass(1);
    }

    [TestMethod]
    public void AWornPageOfTheLogbookLosesNoFrameAndNoSetting()
    {
        using FaultRig rig = Rig();
        StickWhole(rig.Board, StoreMap.LogFirstPage + 1);
        Take(rig, 8);
        int before = rig.Board.Box!.Settings.Brightness;
        Brighter(rig);
        Assert.AreEqual(before + 1, rig.Board.Box.Settings.Brightness);
        long written = rig.Board.Memory.Wear.Sum();
        rig.Pass(600);
        Assert.IsTrue(rig.Board.Memory.Wear.Sum() - written < 60, $"{rig.Board.Memory.Wear.Sum() - written} writes in ten minutes");
        Restart(rig);
        Assert.AreEqual(8, rig.Board.Box.Keeper!.Logbook.Count);
        Assert.AreEqual(before + 1, rig.Board.Box.Settings.Brightness);
        Assert.IsFalse(rig.Health.Any, rig.Words);
    }

    [TestMethod]
    public void AWornCellInOneCopyOfTheSettingsOfANewMemoryLosesNoSetting()
    {
        foreach (int copy in new[] { 0, 1 })
        {
            using var rig = new FaultRig();
            rig.Board.PowerOff();
            rig.Board.Memory.Fill(Enumerable.Repeat((byte)0xFF, At24c32Model.Size).ToArray());
            Stick(rig.Board, StoreMap.FirstPage(RecordId.Settings, copy));
            rig.Board.PowerOn();
            rig.Pass(3);
            int before = rig.Board.Box!.Settings.Brightness;
            for (int i = 1; i <= 3; i++)
            {
                Brighter(rig);
                rig.Pass(30);
                Restart(rig);
                Assert.AreEqual(before + i, rig.Board.Box.Settings.Brightness, $"copy {copy}, change {i}");
                Assert.IsFalse(rig.Health.Any, rig.Words);
            }
        }
    }

    [TestMethod]
    public void StartingAfreshHealsWhateverWasInTheMemory()
    {
        byte[] cells = new byte[At24c32Model.Size];
        new Random(3).NextBytes(cells);
        using FaultRig rig = Rig(new BoardOptions { MemoryHolds = cells });
        Assert.AreEqual(MemoryTrouble.Damaged, rig.Health.Memory);
        // Any press takes the start check down; then the seventh field of the box's card, and Up for overwrite.
        foreach (Button button in new[] { Button.Up, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Select, Button.Up, Button.Back, Button.Back })
        {
            rig.Tap(button);
            rig.Pass(0.5);
        }
        rig.Pass(30);
        Restart(rig);
        Assert.AreEqual(MemoryTrouble.None, rig.Health.Memory, rig.Words);
        Assert.AreEqual(0, rig.Board.Box!.Keeper!.Logbook.BadPages);
        Take(rig, 3);
        rig.Pass(10);
        Restart(rig);
        Assert.AreEqual(3, rig.Board.Box!.Keeper!.Logbook.Count);
        Assert.IsFalse(rig.Health.Any, rig.Words);
    }

    /// <summary>Frames and a change wait to be stored, and cannot be. Staying awake for twelve hours would cost up to 940 mAh (hardware/power.md).</summary>
    [TestMethod]
    public void NoMemoryKeepsTheBoxFromDeepSleep()
    {
        byte[] damaged = new byte[At24c32Model.Size];
        new Random(4).NextBytes(damaged);
        (string What, Action<Board> Do, byte[]? Holds)[] kinds =
        [
            ("silent from the start", b => b.Bus.Trouble.Deaf.Add(0x57), null),
            ("silent later", _ => { }, null),
            ("write protected", b => b.Memory.WriteProtected = true, null),
            ("damaged", _ => { }, damaged),
            ("all cells stuck", b => { for (int p = 0; p < StoreMap.Pages; p++) StickWhole(b, p); }, null),
        ];
        foreach ((string what, Action<Board> spoil, byte[]? holds) in kinds)
        {
            using var rig = new FaultRig(new BoardOptions { MemoryHolds = holds });
            rig.Board.PowerOff();
            spoil(rig.Board);
            rig.Board.PowerOn();
            rig.Set();
            rig.Pass(3);
            if (what == "silent later") rig.Board.Bus.Trouble.Deaf.Add(0x57);
            Take(rig, 3);
            Brighter(rig);
            rig.Pass(9 * 60);
            Assert.IsFalse(rig.Board.Box!.MaySleep, what + ": ten minutes are not over");
            rig.Pass(3 * 60);
            Assert.IsTrue(rig.Board.Box.MaySleep, what);
        }
    }
}
