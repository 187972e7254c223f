using System.Device.Gpio;
using Intervalometer.Core.Release;
using Intervalometer.Drivers.Lines;

namespace Intervalometer.Drivers.Composition;

// This part makes the heartbeat, and reads back the couplers' supply and the two drivers; see LimiterWatch and LineWatch.
public sealed partial class Box
{
    private readonly LimiterWatch _limiter = new LimiterWatch();
    private readonly LineWatch _lineWatch = new LineWatch();
    private GpioPin? _limiterPin;
    private bool _wasUp;
    private long _lastBeatUs;
    private GpioPin? _halfSensePin;
    private GpioPin? _shutterSensePin;

    // While a driver conducts by itself, no beats are sent, because they would give its contact a supply.
    private bool Beating => _link!.Desk.Running || (_limiterPin != null && _limiter.WantsBeats && _lineWatch.Trouble == LimiterTrouble.None);

    // This must come before the first beat, while no contact has a supply.
    private void OpenReadBack()
    {
        if (_pins.HalfSense >= 0) _halfSensePin = _gpio.OpenPin(_pins.HalfSense, PinMode.Input);
        if (_pins.ShutterSense >= 0) _shutterSensePin = _gpio.OpenPin(_pins.ShutterSense, PinMode.Input);
        LookAtLines();
        LookAtLines();
        if (_pins.Limiter < 0) return;
        _limiterPin = _gpio.OpenPin(_pins.Limiter, PinMode.Input);
        _limiter.Begin(_clock.NowUs);
    }

    private void LookAtReleases(long now)
    {
        LookAtLines();
        if (_lineWatch.Trouble != LimiterTrouble.None) _link!.NoteLimiter(_lineWatch.Trouble, now);
        if (_limiterPin == null) return;
        bool up = IsHigh(_limiterPin);
        _limiter.Look(now, Beating, up);
        if (Beating) _lastBeatUs = now;
        else if (_wasUp && !up) _link!.LetGoUs = now - _lastBeatUs;
        _wasUp = up;
        if (_limiter.Trouble != LimiterTrouble.None && _lineWatch.Trouble == LimiterTrouble.None) _link!.NoteLimiter(_limiter.Trouble, now);
    }

    private void LookAtLines()
    {
        if (_halfSensePin != null) _lineWatch.Look(ReleaseLine.HalfPress, _lines!.HalfPressClosed, !IsHigh(_halfSensePin));
        if (_shutterSensePin != null) _lineWatch.Look(ReleaseLine.Shutter, _lines!.ShutterClosed, !IsHigh(_shutterSensePin));
    }

    // Pins 36 and 39 may read low for 80 ns when the converter wakes (errata of the chip, from memory), so low counts only when it is read twice.
    private static bool IsHigh(GpioPin pin) => pin.Read() == PinValue.High || pin.Read() == PinValue.High;

    // While a run is on, the heartbeat keeps the board's limiter from opening the contacts.
    private void Beat(long now)
    {
        if (_heartbeat == null || now - _heartbeatUs < HeartbeatUs || NextEdgeUs - now < ClearOfEdgeUs) return;
        bool beating = Beating;
        if (!beating && !_heartbeatHigh) return;
        _heartbeatUs = now;
        _heartbeatHigh = !_heartbeatHigh;
        // A toggle takes no lock and a fifteenth of the time of a write. Any level will do except for the last one, which is written.
        if (beating) _heartbeat.Toggle();
        else _heartbeat.Write(PinValue.Low);
    }
}
