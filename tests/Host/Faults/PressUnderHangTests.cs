using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>Fire is pressed once or twice while a transfer on the bus blocks everything.</summary>
[TestClass]
public class PressUnderHangTests
{
    private const long Ms = 1_000;
    private const long Second = 1_000_000;
    private const long PressUs = 6 * Second;

    public TestContext TestContext { get; set; } = null!;

    private static Board Bulb(int shutterIndex, int bounceUs)
    {
        var board = new Board(new BoardOptions { BounceUs = bounceUs, Camera = new CameraOptions { Dial = CameraDial.Bulb, WakeMs = 0 } });
        BoxSettings settings = board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.Shape = PlanShape.Single;
        settings.Plan.SettleUs = 0;
        settings.Camera.HalfPressLeadMs = 0;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(shutterIndex), 0));
        return board;
    }

    /// <summary>However late a press is noticed, the limiter and half-press have their whole time, and a bulb frame of 1 s lasts 1 s.</summary>
    [TestMethod]
    public void AFrameIsAsLongAsPlannedHoweverLateItsPressIsTaken()
    {
        int runs = 0, wrong = 0;
        foreach (long hang in new[] { 200 * Ms, 450 * Ms, 600 * Ms, Second })
        {
            for (long from = -hang + 20 * Ms; from <= 100 * Ms; from += 30 * Ms)
            {
                using Board board = Bulb(0, 3_000);
                OneHang.At(board, PressUs + from, hang);
                // A press that draws another card keeps the bus at work.
                board.Press(Button.Down, PressUs + Math.Min(from, -1) - 20 * Ms, 80 * Ms);
                board.Press(Button.Fire, PressUs, 120 * Ms);
                board.RunUntil(PressUs + 6 * Second);
                runs++;
                double[] taken = [.. board.Camera.Frames.Select(f => (f.CloseUs - f.OpenUs) / 1e6)];
                bool right = taken.Length == 1 && Math.Abs(taken[0] - 1) < 0.01 && board.Box!.Desk!.State == RunState.Done;
                if (right) continue;
                wrong++;
                TestContext.WriteLine($"hang of {hang / Ms} ms from {from / Ms} ms after the press: {string.Join(", ", taken)} s, {board.Box!.Desk!.State}");
            }
        }
        TestContext.WriteLine($"{runs} presses, {wrong} wrong");
        Assert.AreEqual(0, wrong, $"of {runs}");
        Assert.IsTrue(runs > 80);
    }

    /// <summary>
    /// The first press is sampled and released before the transfer begins; the second one falls into the transfer. No exposure of the
    /// planned 8 s may go on, whether the second press comes before the first edge or after it.
    /// </summary>
    [TestMethod]
    public void ASecondPressStopsWhateverHoldsThePanelUp()
    {
        int runs = 0, wrong = 0;
        foreach (int bounce in new[] { 0, 3_000 })
            foreach (long hang in new[] { 600 * Ms, 800 * Ms, Second })
                foreach (long apart in new[] { 300 * Ms, 500 * Ms, 700 * Ms })
                    for (long from = 110 * Ms; from < apart + 60 * Ms; from += 10 * Ms)
                    {
                        using Board board = Bulb(9, bounce);
                        OneHang.At(board, PressUs + from, hang);
                        // Redrawn cards and the run's own screen keep the bus at work.
                        board.Press(Button.Mark, PressUs - 200 * Ms, 80 * Ms);
                        board.Press(Button.Fire, PressUs, 80 * Ms);
                        board.Press(Button.Fire, PressUs + apart, 80 * Ms);
                        board.RunUntil(PressUs + 12 * Second);
                        runs++;
                        long longest = board.Camera.Frames.Select(f => f.CloseUs - f.OpenUs).DefaultIfEmpty().Max();
                        if (longest < 2 * Second && board.Camera.OpenSinceUs is null && !board.Box!.Desk!.Running) continue;
                        wrong++;
                        TestContext.WriteLine($"bounce {bounce}, presses {apart / Ms} ms apart, hang of {hang / Ms} ms from {from / Ms} ms: exposed {longest / 1e6} s");
                    }
        TestContext.WriteLine($"{runs} pairs of presses, {wrong} stops swallowed");
        Assert.AreEqual(0, wrong, $"of {runs}");
        Assert.IsTrue(runs > 500);
    }

    /// <summary>
    /// Both presses fall into one transfer. Pin events carry no time, so the presses look like one press that bounces. The run goes on, and its
    /// screen asks until its end whether Fire was pressed twice.
    /// </summary>
    [TestMethod]
    public void TwoPressesInOneTransferStopTheRunOrAreAskedFor()
    {
        int runs = 0, asked = 0, wrong = 0;
        foreach (int bounce in new[] { 0, 3_000 })
            foreach (long hang in new[] { 600 * Ms, 800 * Ms, Second })
                foreach (long apart in new[] { 200 * Ms, 300 * Ms, 500 * Ms })
                    for (long from = 20 * Ms; from + apart + 100 * Ms < hang; from += 20 * Ms)
                    {
                        using Board board = Bulb(9, bounce);
                        OneHang.At(board, PressUs - from, hang);
                        board.Press(Button.Down, PressUs - from - 20 * Ms, 80 * Ms);
                        board.Press(Button.Fire, PressUs, 80 * Ms);
                        board.Press(Button.Fire, PressUs + apart, 80 * Ms);
                        board.RunUntil(PressUs + 4 * Second);
                        runs++;
                        bool on = board.Box!.Desk!.Running;
                        if (on && board.Box.Link!.Report.PressHeldUp) asked++;
                        else if (on || board.Camera.OpenSinceUs is not null || board.Camera.Frames.Any(f => f.CloseUs - f.OpenUs > 2 * Second))
                        {
                            wrong++;
                            TestContext.WriteLine($"bounce {bounce}, presses {apart / Ms} ms apart, hang of {hang / Ms} ms from {-from / Ms} ms: {board.Box.Desk.State}, nothing asked");
                        }
                    }
        TestContext.WriteLine($"{runs} pairs of presses inside one transfer, {asked} asked for, {wrong} neither stopped nor asked for");
        Assert.AreEqual(0, wrong, $"of {runs}");
        Assert.IsTrue(runs > 200 && asked > 0);
    }

    [TestMethod]
    public void NothingIsAskedAfterAPressThatWasSeenAtOnce()
    {
        using Board board = Bulb(9, 3_000);
        board.Press(Button.Fire, PressUs, 80 * Ms);
        board.RunUntil(PressUs + 4 * Second);
        Assert.IsTrue(board.Box!.Desk!.Running);
        Assert.IsFalse(board.Box.Link!.Report.PressHeldUp);
    }
}
