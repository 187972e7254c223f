using Intervalometer.Core.Run;
using Intervalometer.Screens.Cards;
using Intervalometer.Settings;
using static Intervalometer.Screens.Layout;

namespace Intervalometer.Screens.Nav;

/// <content>What is shown of the battery and of the limiter.</content>
public sealed partial class FrontPanel
{
    // Draws the sign of trouble. When the battery is low and something else is wrong as well, the two signs alternate.
    private void HealthSign(Frame frame, int x, long nowUs)
    {
        bool battery = Health.Battery.Troubles;
        if (!battery || (Health.AnyOther && nowUs / 2_000_000 % 2 == 1)) frame.Text(x, HeadingY, "! BOX", Font.Small);
        else CardPainter.LowBattery(frame, x, Health.Battery.Refuses);
    }

    // When the limiter fails, or the battery gets worse, a message says so once. It comes over whatever card is shown, but not during a run.
    private void TellBattery()
    {
        if (_link.Limiter != _toldLimiter && !_notice.Shown && !_link.Busy && _link.State == RunState.Ready)
        {
            _toldLimiter = _link.Limiter;
            _dirty = true;
            _notice.Show(LimiterTitle, LimiterRefusal, true);
            return;
        }
        BatteryWatch battery = Health.Battery;
        if (battery.State == _toldBattery || _notice.Shown || _link.State != RunState.Ready || _link.Busy) return;
        bool worse = battery.Troubles && battery.State > _toldBattery;
        _toldBattery = battery.State;
        _dirty = true;
        if (!worse || Check.Shown) return;
        if (battery.Refuses) _notice.Show("BATTERY EMPTY", BatteryRefusal(), true);
        else _notice.Show("BATTERY LOW", battery.Volts + ". Runs still start and are finished. Charge it soon; keep the box warm.", true);
    }

    private string BatteryRefusal() =>
        "Battery " + Health.Battery.Volts + ": a run could be cut off, and so could the alarm. Put it on USB power or change the cell.";
}
