using System.Globalization;
using Intervalometer.Core.Light;
using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
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
    private long _readUs = long.MinValue / 2;

    public PanelRig()
    {
        Settings = new BoxSettings();
        Shore = new ShoreDesk(new ShoreSettings(), Settings);
        Panel = new FrontPanel(Settings, Bench.Link, Shore);
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

    /// <summary>What a light sensor says, once a second; null fits none.</summary>
    public Func<long, (LightState State, double Lux)>? Light { get; set; }

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
        Down(button);
        Pass(forUs);
        Up(button, forUs);
        Pass(20_000);
        return this;
    }

    /// <summary>A button goes down, as the box deals with it; the order is made of the settings as they are now.</summary>
    public void Down(Button button)
    {
        Panel.Prepare(long.MaxValue);
        PressWork.Down(Bench.Link, button, Bench.NowUs, Bench.NowUs);
        Attend();
    }

    /// <summary>A button comes up.</summary>
    public void Up(Button button, long heldUs)
    {
        PressWork.Up(Bench.Link, button, heldUs, Bench.NowUs);
        Attend();
    }

    private void Attend()
    {
        while (Bench.Link.Presses.TryTake(out int code, out long atUs)) Panel.OnEvent(code, atUs);
        Panel.Prepare(Bench.NowUs);
        Bench.Link.Pass(Bench.NowUs);
    }

    /// <summary>Time goes by, with a panel pass every tick.</summary>
    public PanelRig Pass(long us)
    {
        long until = Bench.NowUs + us;
        while (Bench.NowUs < until)
        {
            Bench.RunTo(Math.Min(until, Bench.NowUs + Bench.TickUs));
            Panel.Tick(Bench.NowUs);
            Panel.Prepare(Bench.NowUs);
            if (Light is not null) LightPass(Light);
            bool running = Bench.Link.Busy;
            Shore.Pass(Bench.NowUs, Bench.Desk.NextEdgeUs - Bench.NowUs, running, running && Bench.NowUs < Bench.Desk.Player.FrameEndUs && Bench.Desk.Player.FramesStarted > 0);
        }
        return this;
    }

    private void LightPass(Func<long, (LightState State, double Lux)> light)
    {
        SensedLight sensor = Shore.Dawn.Sensor;
        sensor.Fitted = true;
        Shore.Dawn.SensorPass(Shore.Clock, Shore.Settings.DawnOn, Bench.Link, Bench.NowUs);
        if (Bench.NowUs - _readUs < 1_000_000) return;
        _readUs = Bench.NowUs;
        (LightState state, double lux) = light(_readUs);
        sensor.Take(state, lux, _readUs);
    }

    /// <summary>Draws what is shown now; nothing may have been drawn outside the frame.</summary>
    public Frame Draw()
    {
        Panel.Draw(_frame, Bench.NowUs);
        Assert.AreEqual(0, _frame.ClippedPixels, $"{Panel.ScreenName}: pixels drawn outside the frame");
        Assert.AreEqual(0, _frame.CoveredPixels, $"{Panel.ScreenName}: text drawn over something");
        Assert.AreEqual(0, _frame.MissingGlyphs, $"{Panel.ScreenName}: characters that the font lacks");
        return _frame;
    }

    public string Ascii() => AsciiPicture.Full(Draw().Pixel, Frame.Width, Frame.Height);

    public byte[] Png() => DisplayPicture.Png(Draw().Pixel, Frame.Width, Frame.Height, 5);
}
