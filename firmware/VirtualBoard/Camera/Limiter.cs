using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>
/// The board's hardware limit: a pump that holds the contacts' supply up only while the heartbeat pin toggles. A firmware
/// that hangs with a contact closed loses it after the hold time (an estimate from the pump's parts).
/// </summary>
public sealed class Limiter(VirtualClock clock, long holdUs)
{
    private int _beats;

    /// <summary>The contacts' supply came or went: true while it is up.</summary>
    public event Action<bool>? Changed;

    /// <summary>True while the contacts can close.</summary>
    public bool Up { get; private set; }

    /// <summary>The heartbeat pin changed now.</summary>
    public void Beat()
    {
        int beat = ++_beats;
        if (!Up)
        {
            Up = true;
            Changed?.Invoke(true);
        }
        clock.At(clock.NowUs + holdUs, () =>
        {
            if (_beats != beat) return;
            Up = false;
            Changed?.Invoke(false);
        });
    }
}
