using System.Device.Gpio;
using Intervalometer.Core;
using Intervalometer.Core.Link;
using Intervalometer.Core.Release;
using Intervalometer.Drivers;
using Intervalometer.Drivers.Lines;
using Intervalometer.VirtualBoard;

namespace Intervalometer.Tests.Host.VirtualBoard;

/// <summary>The smallest firmware that fires: one plan at one time, a display write each panel pass when asked, nothing else.</summary>
internal sealed class PlanFirmware : IFirmware
{
    private readonly BoardParts _parts;
    private readonly ShotPlan _plan;
    private readonly CameraProfile _camera;
    private readonly long _pressUs;
    private readonly int _displayBytes;
    private readonly bool _rude;
    private ReleasePlayer? _player;
    private OptoLines? _lines;
    private GpioPin? _heartbeat;
    private long _beatUs;

    /// <param name="parts">From the board.</param>
    /// <param name="plan">What to play.</param>
    /// <param name="camera">The camera profile.</param>
    /// <param name="pressUs">When to start it.</param>
    /// <param name="displayBytes">Bytes to send to the display each panel pass.</param>
    /// <param name="rude">True to send them however near an edge is.</param>
    public PlanFirmware(BoardParts parts, ShotPlan plan, CameraProfile camera, long pressUs = 1_000_000, int displayBytes = 0, bool rude = false)
    {
        _parts = parts;
        _plan = plan;
        _camera = camera;
        _pressUs = pressUs;
        _displayBytes = displayBytes;
        _rude = rude;
    }

    private IMicrosClock Clock => _parts.Clock;

    /// <summary>True makes the loops do nothing any more.</summary>
    public bool Hung { get; set; }

    public int ReleasePasses { get; private set; }

    public bool? Acknowledged { get; private set; }

    public long NextEdgeUs => _player?.State == PlayerState.Playing ? _player.NextEdgeUs : long.MaxValue;

    public long WriteAheadUs => _player?.NextAheadUs ?? 0;

    public bool EdgeNear => NextEdgeUs != long.MaxValue && NextEdgeUs - Clock.NowUs < 40_000;

    public void Start()
    {
        _lines = new OptoLines(_parts.Gpio, _parts.Pins.HalfPress, _parts.Pins.Shutter);
        _player = new ReleasePlayer(_lines, new FrameRing());
        _heartbeat = _parts.Gpio.OpenPin(_parts.Pins.Heartbeat, PinMode.Output);
    }

    public void PanelPass()
    {
        if (_displayBytes == 0 || (EdgeNear && !_rude)) return;
        Acknowledged = _parts.Display.Write(new byte[_displayBytes]);
    }

    public void ReleasePass()
    {
        ReleasePasses++;
        if (Hung) return;
        if (_player!.State == PlayerState.Idle && Clock.NowUs >= _pressUs) _player.Play(_plan, _camera, Clock.NowUs);
        _player.Pass(Clock.NowUs);
        if (EdgeNear || Clock.NowUs - _beatUs < 100_000) return;
        _beatUs = Clock.NowUs;
        _heartbeat!.Toggle();
    }

    public void OpenLines() => _lines!.OpenAll();
}
