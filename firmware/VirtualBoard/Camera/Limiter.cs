using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>
/// The board's hardware limit: a pump that holds the contacts' supply up only while the heartbeat pin toggles. A firmware
/// that hangs with a contact closed loses it after the hold time, and the pump needs beats for the charge time before it
/// lets a contact close (estimates).
/// </summary>
public sealed class Limiter(VirtualClock clock, long chargeUs, long holdUs)
{
    private int _beats;
    private bool _charging;
    private long _chargedAtUs;

    /// <summary>The contacts' supply came or went: true while it is up.</summary>
    public event Action<bool>? Changed;

    /// <summary>True while the contacts can close.</summary>
    public bool Up { get; private set; }

    /// <summary>The heartbeat pin changed now.</summary>
    public void Beat()
    {
        int beat = ++_beats;
        if (!_charging)
        {
            _charging = true;
            _chargedAtUs = clock.NowUs + chargeUs;
        }
        if (!Up && clock.NowUs >= _chargedAtUs)
        {
            Up = true;
            Changed?.Invoke(true);
        }
        clock.At(clock.NowUs + holdUs, () =>
        {
            if (_beats != beat) return;
            _charging = false;
            if (!Up) return;
            Up = false;
            Changed?.Invoke(false);
        });
    }
}
