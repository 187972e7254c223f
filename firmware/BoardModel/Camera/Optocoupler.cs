using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>
/// Between a pin and the camera's contact: quick to close, slower to open. A PC817-class part into a 100 k pull-up took up
/// to 3.1 ms to open in simulation; the pull-up of a typical camera is far stronger. Delays are estimates.
/// </summary>
public sealed class Optocoupler(VirtualClock clock, int onUs, int offUs, Action<bool> contact)
{
    private bool _wanted;
    private int _changes;

    /// <summary>The pin changed now.</summary>
    public void Drive(bool on)
    {
        if (_wanted == on) return;
        _wanted = on;
        int change = ++_changes;
        clock.At(clock.NowUs + (on ? onUs : offUs), () => { if (_wanted == on && change == _changes) contact(on); });
    }
}
