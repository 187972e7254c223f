using System.Device.Gpio;
using Intervalometer.Core.Release;

namespace Intervalometer.Drivers.Box;

// The heartbeat, and the couplers' supply read back: see LimiterWatch.
public sealed partial class Box
{
    private readonly LimiterWatch _limiter = new LimiterWatch();
    private GpioPin? _limiterPin;

    private bool Beating => _link!.Desk.Running || (_limiterPin != null && _limiter.WantsBeats);

    private void OpenLimiter()
    {
        if (_pins.Limiter < 0) return;
        _limiterPin = _gpio.OpenPin(_pins.Limiter, PinMode.Input);
        _limiter.Begin(_clock.NowUs);
    }

    private void LookAtLimiter(long now)
    {
        if (_limiterPin == null) return;
        // The pin may dip for 80 ns when the converter wakes (errata of the chip, from memory): low counts when it is read twice.
        bool up = _limiterPin.Read() == PinValue.High || _limiterPin.Read() == PinValue.High;
        _limiter.Look(now, Beating, up);
        if (_limiter.Trouble != LimiterTrouble.None) _link!.NoteLimiter(_limiter.Trouble, now);
    }

    // While a run is on, the heartbeat keeps the board's limiter from opening the contacts.
    private void Beat(long now)
    {
        if (_heartbeat == null || now - _heartbeatUs < HeartbeatUs || NextEdgeUs - now < ClearOfEdgeUs) return;
        bool beating = Beating;
        if (!beating && !_heartbeatHigh) return;
        _heartbeatUs = now;
        _heartbeatHigh = !_heartbeatHigh;
        // A toggle takes no lock and a fifteenth of a write's time. Every level but the last is as good as the other; the last one is written.
        if (beating) _heartbeat.Toggle();
        else _heartbeat.Write(PinValue.Low);
    }
}
