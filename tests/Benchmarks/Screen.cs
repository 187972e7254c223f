using Intervalometer.Screens;
using Intervalometer.Screens.Nav;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;
using Intervalometer.Tests.DeviceSafe;
using Intervalometer.VirtualBoard.Plan;

namespace Intervalometer.Benchmarks;

/// <summary>A card of the front panel, ready to be drawn again and again: the demo site on a March morning.</summary>
internal sealed class Screen
{
    private readonly Frame _frame = new();
    private readonly Bench _bench = new();
    private readonly FrontPanel _panel;

    /// <summary>The card that some presses lead to; its name is checked.</summary>
    public Screen(string name, params Button[] presses)
    {
        var settings = new BoxSettings();
        var shore = new ShoreDesk(new ShoreSettings(), settings);
        _panel = new FrontPanel(settings, _bench.Link, shore);
        Site site = DemoSite.Load();
        shore.Settings.Use(site.Place, site.Wish);
        shore.Clock.Read(Planner.FromDateTime(new DateTime(2031, 3, 14, 5, 30, 0, DateTimeKind.Utc)), _bench.NowUs);
        foreach (Button button in presses)
        {
            PressWork.Down(_bench.Link, button, _bench.NowUs, _bench.NowUs);
            Pass(shore, 100_000);
            PressWork.Up(_bench.Link, button, 100_000, _bench.NowUs);
        }
        Pass(shore, 3_000_000);
        if (_panel.ScreenName != name) throw new InvalidOperationException($"the presses lead to {_panel.ScreenName}, not to {name}");
    }

    public double Draw()
    {
        _panel.Draw(_frame, _bench.NowUs);
        return 1;
    }

    private void Pass(ShoreDesk shore, long us)
    {
        for (long until = _bench.NowUs + us; _bench.NowUs < until;)
        {
            _bench.RunTo(_bench.NowUs + Bench.TickUs);
            while (_bench.Link.Presses.TryTake(out int code, out long atUs)) _panel.OnEvent(code, atUs);
            _panel.Tick(_bench.NowUs);
            _panel.Prepare(_bench.NowUs);
            shore.Pass(_bench.NowUs, _bench.Desk.NextEdgeUs - _bench.NowUs, false, false);
        }
    }
}
