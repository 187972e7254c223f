using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>
/// The slowest optocoupler on the weakest camera pull-up, as simulated for the release circuit (hardware/release-limits.csv),
/// on the whole board: the least gap that the box lets a person set still separates two frames.
/// </summary>
[TestClass]
public class SlowCouplerTests
{
    private static Board Fire(int openDelayUs, double debounceMs, int gapMs)
    {
        var board = new Board(new BoardOptions
        {
            OptoOnUs = ReleaseLimits.CloseDelayWorstUs,
            OptoOffUs = openDelayUs,
            Camera = new CameraOptions { Dial = CameraDial.Bulb, LagMs = 10, DebounceMs = debounceMs },
        });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.StepShutter(9);
        settings.Camera.ShutterLagMs = 10;
        settings.Camera.MinimumGapMs = gapMs;
        settings.Plan.Shape = PlanShape.Burst;
        settings.Plan.Frames = 3;
        settings.Plan.GapUs = 0;
        board.Press(Button.Fire, 1_000_000, 100_000);
        board.RunUntil(8_000_000);
        return board;
    }

    [TestMethod]
    public void TheLeastGapSeparatesFramesOnTheSlowestCoupler()
    {
        using Board board = Fire(ReleaseLimits.OpenDelayWorstUs, 9, 1);
        Assert.AreEqual(3, board.Camera.Frames.Count);
        Assert.AreEqual(0, board.Camera.Missed.Count);
        foreach (var frame in board.Camera.Frames)
        {
            double late = (frame.CloseUs - frame.OpenUs) / 1e3 - 125;
            Assert.IsTrue(late is > 0 and < 15, $"frame of {frame.CloseUs - frame.OpenUs} us for 125 ms");
        }
    }

    [TestMethod]
    public void ACouplerFarSlowerThanSimulatedWouldMergeThem()
    {
        using Board board = Fire(60_000, 9, 1);
        Assert.IsTrue(board.Camera.Frames.Count < 3, $"{board.Camera.Frames.Count} frames: the check above could not fail");
    }
}
