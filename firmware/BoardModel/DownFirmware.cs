using Intervalometer.Drivers.Composition;
using Intervalometer.VirtualBoard.Clock;

namespace Intervalometer.VirtualBoard;

/// <summary>The firmware in its safe state, which a board enters after several faults in a row.</summary>
public sealed class DownFirmware(SafeState safe, VirtualClock clock) : IFirmware
{
    /// <inheritdoc />
    public bool EdgeNear => false;

    /// <inheritdoc />
    public long NextEdgeUs => long.MaxValue;

    /// <inheritdoc />
    public long WriteAheadUs => 0;

    /// <inheritdoc />
    public void Start() => safe.Enter();

    /// <inheritdoc />
    public void PanelPass() => safe.Pass(clock.NowUs);

    /// <inheritdoc />
    public void ReleasePass()
    {
    }

    /// <inheritdoc />
    public void OpenLines()
    {
    }
}
