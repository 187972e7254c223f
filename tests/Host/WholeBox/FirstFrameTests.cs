using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.Tests.Host.WholeBox;

/// <summary>hardware/README.md, section 5 and 7, pressed as it is written, on a box as it comes from the bench: empty memory, stopped clock, no place.</summary>
[TestClass]
public class FirstFrameTests
{
    private const long Second = 1_000_000;

    private static Board NewBox() => new(new BoardOptions { StartUtc = null, Place = null, Camera = new CameraOptions { Dial = CameraDial.Bulb } });

    private static void Press(Board board, Button button, int times = 1, long forUs = 120_000)
    {
        for (int i = 0; i < times; i++)
        {
            board.Press(button, board.Time.NowUs + 1, forUs);
            board.RunUntil(board.Time.NowUs + forUs + 200_000);
        }
    }

    private static void Until(Board board, Button button, Func<bool> reached, string what)
    {
        for (int presses = 0; !reached(); presses++)
        {
            Assert.IsLessThan(60, presses, what);
            Press(board, button);
        }
    }

    [TestMethod]
    public void TheBenchIsReachedAndEveryRowIsGood()
    {
        using Board board = NewBox();
        board.RunUntil(7 * Second);
        FrontPanelText(board, "START CHECK");
        // Set the time: Back, Up; Select to the clock's fields, and on to the last of them, which takes two presses.
        Press(board, Button.Back);
        Press(board, Button.Up);
        FrontPanelText(board, "PLACE");
        Press(board, Button.Select, 2);
        Press(board, Button.Up);
        Press(board, Button.Select, 5);
        Press(board, Button.Up, 2);
        Press(board, Button.Back, 1, 1_200_000);
        FrontPanelText(board, "LIGHT");
        Press(board, Button.Up);
        FrontPanelText(board, "BOX");
        Press(board, Button.Select, 1, 1_200_000);
        FrontPanelText(board, "BENCH");
        foreach (Button button in new[] { Button.Up, Button.Down, Button.Mark, Button.Fire, Button.Back }) Press(board, button);
        FrontPanelText(board, "BENCH");
        Assert.IsTrue(board.Box!.Shore.Clock.IsSet);
        Assert.AreEqual(LimiterTrouble.None, board.Box.Link!.Limiter);
        Assert.IsTrue(board.Box.Link.LetGoUs is > 500_000 and < 5_000_000);
        Assert.IsEmpty(board.Edges);
        Press(board, Button.Back, 1, 1_200_000);
        FrontPanelText(board, "LIGHT");
    }

    [TestMethod]
    public void ThreeFramesOfFourSeconds()
    {
        using Board board = NewBox();
        board.RunUntil(7 * Second);
        Press(board, Button.Back, 1, 1_200_000);
        FrontPanelText(board, "LIGHT");
        BoxSettings settings = board.Box!.Settings;
        Press(board, Button.Select);
        Until(board, Button.Up, () => settings.Base.Shutter.Sign == "4\"", "4 s by Up");
        Press(board, Button.Back);
        Press(board, Button.Down, 2);
        FrontPanelText(board, "FRAMES");
        Press(board, Button.Select);
        Until(board, Button.Up, () => settings.Plan.Shape == PlanShape.Burst, "a burst by Up");
        Press(board, Button.Select, 2);
        Until(board, Button.Up, () => settings.AlwaysBulb, "timed by the box");
        Press(board, Button.Select);
        Until(board, settings.Plan.Frames > 3 ? Button.Down : Button.Up, () => settings.Plan.Frames == 3, "3 frames");
        Press(board, Button.Back);
        Press(board, Button.Fire);
        board.RunUntil(board.Time.NowUs + 30 * Second);
        SessionReport report = ReportBuilder.Of(board, "first frame");
        Assert.HasCount(3, report.Frames);
        foreach (FrameReport frame in report.Frames) Assert.AreEqual(4, frame.Exposure, 0.01);
        Assert.AreEqual("RUN", board.Box.Panel!.ScreenName, "the box tells that the run has ended");
    }

    private static void FrontPanelText(Board board, string screen) => Assert.AreEqual(screen, board.Box!.Panel!.ScreenName);
}
