using Intervalometer.Core.Exposure;
using Intervalometer.Core.Release;
using Intervalometer.Settings;
using Intervalometer.VirtualBoard;
using Intervalometer.VirtualBoard.Camera;
using Intervalometer.VirtualBoard.Pins;
using Intervalometer.VirtualBoard.Report;

namespace Intervalometer.Tests.Host.Faults;

/// <summary>The whole board, with a camera on bulb and an exposure of 16 s, on which parts fail.</summary>
internal sealed class FaultRig : IDisposable
{
    public const long Second = 1_000_000;

    public FaultRig(BoardOptions? options = null)
    {
        Board = new Board((options ?? new BoardOptions()) with { Camera = new CameraOptions { Dial = CameraDial.Bulb } });
        Set();
    }

    public Board Board { get; }

    public BoxHealth Health => Board.Box!.Panel!.Health;

    public bool LinesOpen => !Board.Lines[Line.HalfPress] && !Board.Lines[Line.Shutter];

    public string Words => Health.Failed(0) + "; " + Health.Works(0);

    /// <summary>16 s of bulb after 2 s of settling.</summary>
    public void Set()
    {
        BoxSettings settings = Board.Box!.Settings;
        settings.AlwaysBulb = true;
        settings.Plan.Shape = PlanShape.Single;
        settings.SetBase(new MeteredBase(new ApertureSetting(18), new IsoSetting(0), new ShutterSetting(12), 0));
    }

    public void Tap(Button button) => Tap(button, Board.Time.NowUs + 1);

    public void Tap(Button button, long atUs) => Board.Press(button, atUs, 120_000);

    public void To(double seconds) => Board.RunUntil((long)(seconds * 1e6));

    public void Pass(double seconds) => Board.RunUntil(Board.Time.NowUs + (long)(seconds * 1e6));

    /// <summary>Checks that there was one exposure and that it was as long as planned.</summary>
    public void ExposedAsPlanned(double withinMs = 1)
    {
        SessionReport report = ReportBuilder.Of(Board, "fault");
        Assert.AreEqual(0, report.MissedPresses.Count);
        FrameReport frame = report.Frames.Single();
        Assert.IsFalse(frame.CutShort);
        Assert.AreEqual(16, frame.Exposure, withinMs / 1000);
        Assert.IsTrue(Math.Abs(frame.PressErrorMs!.Value) <= withinMs, $"press {frame.PressErrorMs} ms off its plan");
        Assert.IsTrue(LinesOpen);
    }

    public string Screen()
    {
        var rows = new System.Text.StringBuilder();
        byte[] picture = Board.Display.Rows();
        return rows.AppendJoin(' ', picture).ToString();
    }

    /// <summary>From now on, reading the pin of Mark fails in the release thread, until the board is reset.</summary>
    public void BreakMark() => Board.Gpio.Throwing[Board.Options.Pins.Buttons[(int)Button.Mark]] = new InvalidOperationException("a test: the pin");

    public void Dispose() => Board.Dispose();
}
