using System.Device.Gpio;
using Intervalometer.Core;

namespace Intervalometer.Drivers.Box;

/// <summary>
/// The whole instrument: panel, buttons, display and release lines, on any board. The board only supplies pins, the bus,
/// the clock, and two threads that keep calling <see cref="PanelTurn"/> and <see cref="ReleaseTurn"/>.
/// </summary>
public sealed class Box
{
    private readonly IMicrosClock _clock;

    /// <summary>Wires the instrument. Opens no pin yet; see <see cref="Start"/>.</summary>
    public Box(GpioController gpio, BoxPins pins, ITwoWireDevice display, IMicrosClock clock)
    {
        _clock = clock;
    }

    /// <summary>Opens the release lines first (both open), then inputs, then the display.</summary>
    public void Start()
    {
    }

    /// <summary>One pass of the panel thread; call it about every 10 ms. Does nothing that could disturb an edge that is near.</summary>
    public void PanelTurn()
    {
    }

    /// <summary>One pass of the release thread; call it at least every 10 ms, and without any sleep while <see cref="EdgeNear"/>. Allocates nothing.</summary>
    public void ReleaseTurn()
    {
    }

    /// <summary>True when a line edge is due within about 40 ms, so that the release thread must spin and not sleep.</summary>
    public bool EdgeNear => NextEdgeUs - _clock.NowUs < 40_000;

    /// <summary>The time of the next planned edge on the board's clock; long.MaxValue when none is planned.</summary>
    public long NextEdgeUs => long.MaxValue;

    /// <summary>Opens both lines at once; for exit paths. Never throws.</summary>
    public void OpenLines()
    {
    }
}
