using Intervalometer.Drivers.Composition;

namespace Intervalometer.VirtualBoard;

/// <summary>The firmware as the board sees it: two loops and the time of the next edge.</summary>
public interface IFirmware
{
    /// <summary>Called once at power-on.</summary>
    void Start();

    /// <summary>One pass of the panel loop.</summary>
    void PanelPass();

    /// <summary>One pass of the release loop.</summary>
    void ReleasePass();

    /// <summary>True when the release loop must poll the clock without a pause.</summary>
    bool EdgeNear { get; }

    /// <summary>When the next edge must be written, µs; long.MaxValue for none.</summary>
    long NextEdgeUs { get; }

    /// <summary>How long before its time at the contact the firmware writes the next edge, µs.</summary>
    long WriteAheadUs { get; }

    /// <summary>Opens both contacts.</summary>
    void OpenLines();
}

/// <summary>The real firmware.</summary>
public sealed class BoxFirmware(Box box) : IFirmware
{
    /// <inheritdoc />
    public void Start() => box.Start();

    /// <inheritdoc />
    public void PanelPass() => box.PanelPass();

    /// <inheritdoc />
    public void ReleasePass() => box.ReleasePass();

    /// <inheritdoc />
    public bool EdgeNear => box.EdgeNear;

    /// <inheritdoc />
    public long NextEdgeUs => box.NextEdgeUs;

    /// <inheritdoc />
    public long WriteAheadUs => box.Desk?.Player.NextAheadUs ?? 0;

    /// <inheritdoc />
    public void OpenLines() => box.OpenLines();
}
