using System.Globalization;
using Intervalometer.Screens;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Display;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Tests.Host.Screens;

/// <summary>The front panel on a bench: presses go in, pictures come out.</summary>
internal sealed class PanelRig
{
    private readonly Frame _frame = new();

    public PanelRig()
    {
        Settings = new BoxSettings();
        Shore = new ShoreDesk(new ShoreSettings(), Settings);
        Panel = new FrontPanel(Settings, Bench.Desk, Shore);
    }

    public ShoreDesk Shore { get; }

    /// <summary>The demo site and a clock that was read now, with all that follows worked out.</summary>
    public PanelRig At(string utc)
    {
        Site site = DemoSite.Load();
        Shore.Settings.Use(site.Place, site.Wish);
        Shore.Clock.Read(Planner.FromDateTime(DateTime.Parse(utc, CultureInfo.InvariantCulture, DateTimeStyles.AdjustToUniversal)), Bench.NowUs);
        return Pass(2_000_000);
    }

    public BoxSettings Settings { get; }

    public Bench Bench { get; } = new();

    public FrontPanel Panel { get; }

    /// <summary>Presses counted since the rig was made.</summary>
    public int Presses { get; private set; }

    /// <summary>A short press, 100 ms.</summary>
    public PanelRig Press(params Button[] buttons)
    {
        foreach (Button button in buttons) Hold(button, 100_000);
        return this;
    }

    /// <summary>A press of a given length, µs.</summary>
    public PanelRig Hold(Button button, long forUs)
    {
        Presses++;
        bool stops = Bench.Desk.Running && button is Button.Fire or Button.Back;
        if (stops && Bench.Desk.Running) Bench.Desk.StopNow(Bench.NowUs);
        if (button == Button.Mark) Bench.Mark();
        // As the box does: a stop has done its work, and a mark in a run too.
        Panel.OnButton(button, true, stops || (button == Button.Mark && Bench.Desk.Running), Bench.NowUs);
        Pass(forUs);
        Panel.OnButton(button, false, false, Bench.NowUs);
        Pass(20_000);
        return this;
    }

    /// <summary>Time goes by, with a panel turn every tick.</summary>
    public PanelRig Pass(long us)
    {
        long until = Bench.NowUs + us;
        while (Bench.NowUs < until)
        {
            Bench.RunTo(Math.Min(until, Bench.NowUs + Bench.TickUs));
            Panel.Tick(Bench.NowUs);
            bool running = Bench.Desk.Busy;
            Shore.Turn(Bench.NowUs, Bench.Desk.NextEdgeUs - Bench.NowUs, running, running && Bench.NowUs < Bench.Desk.Log.LastEndUs && Bench.Desk.Player.FramesStarted > 0);
        }
        return this;
    }

    /// <summary>Draws what is shown now; nothing may have been drawn outside the frame.</summary>
    public Frame Draw()
    {
        Panel.Draw(_frame, Bench.NowUs);
        Assert.AreEqual(0, _frame.ClippedPixels, $"{Panel.ScreenName}: pixels drawn outside the frame");
        Assert.AreEqual(0, _frame.MissingGlyphs, $"{Panel.ScreenName}: characters that the font lacks");
        return _frame;
    }

    public string Ascii() => AsciiPicture.Full(Draw().Pixel, Frame.Width, Frame.Height);

    public byte[] Png() => DisplayPicture.Png(Draw().Pixel, Frame.Width, Frame.Height, 5);
}
