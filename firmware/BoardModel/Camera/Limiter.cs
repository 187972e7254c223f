using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>What may be wrong with the limiter; hardware/faults.md says which part does it.</summary>
public enum LimiterFault
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The supply is always up: its transistor or its reference is shorted.</summary>
    AlwaysOn = 1,

    /// <summary>Once up, the supply stays up: the resistor that empties the capacitor is open.</summary>
    NeverLetsGo = 2,

    /// <summary>The supply never comes up.</summary>
    NeverUp = 3,

    /// <summary>The supply is up only for a moment after each edge of the heartbeat: the capacitor is open.</summary>
    Chops = 4,
}

/// <summary>
/// The hardware limiter of the board: a charge pump that supplies the contacts only while the heartbeat pin toggles. A firmware
/// that hangs with a contact closed loses the supply after the hold time. The pump needs a heartbeat for the charge time before it
/// lets a contact close (estimates).
/// </summary>
public sealed class Limiter(VirtualClock clock, long chargeUs, long holdUs, LimiterFault fault = LimiterFault.None)
{
    // With its capacitor open the supply is up for no longer than this after a beat.
    private const long ChopUs = 2_000;

    private LimiterFault _fault = fault;
    private int _beats;
    private bool _charging;
    private long _chargedAtUs;

    /// <summary>The contacts' supply came or went: true while it is up.</summary>
    public event Action<bool>? Changed;

    /// <summary>True while the contacts can close.</summary>
    public bool Up { get; private set; } = fault == LimiterFault.AlwaysOn;

    /// <summary>Something breaks now.</summary>
    public void Break(LimiterFault now)
    {
        _fault = now;
        Set(now == LimiterFault.AlwaysOn || (Up && now != LimiterFault.NeverUp));
    }

    /// <summary>The heartbeat pin changed now.</summary>
    public void Beat()
    {
        int beat = ++_beats;
        if (!_charging)
        {
            _charging = true;
            _chargedAtUs = clock.NowUs + chargeUs;
        }
        if (!Up && _fault != LimiterFault.NeverUp && (_fault == LimiterFault.Chops || clock.NowUs >= _chargedAtUs))
        {
            Set(true);
        }
        if (_fault is LimiterFault.AlwaysOn or LimiterFault.NeverLetsGo) return;
        clock.At(clock.NowUs + (_fault == LimiterFault.Chops ? ChopUs : holdUs), () =>
        {
            if (_beats != beat || _fault is LimiterFault.AlwaysOn or LimiterFault.NeverLetsGo) return;
            _charging = false;
            Set(false);
        });
    }

    private void Set(bool up)
    {
        if (Up == up) return;
        Up = up;
        Changed?.Invoke(up);
    }
}
