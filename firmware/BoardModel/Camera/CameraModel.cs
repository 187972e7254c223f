using Intervalometer.VirtualBoard.Clock;
using Intervalometer.VirtualBoard.Pins;

namespace Intervalometer.VirtualBoard.Camera;

/// <summary>
/// A manual camera on the end of the remote cable. It sees two contacts and nothing else, and it records what it really did.
/// </summary>
public sealed class CameraModel
{
    private readonly VirtualClock _clock;
    private readonly LineLog _log;
    private readonly List<Frame> _frames = [];
    private readonly List<MissedPress> _missed = [];

    private bool _halfRaw, _shutterRaw;      // contacts as they are
    private long _shutterRawAtUs = long.MinValue / 2;
    private bool _shutter;                   // contact as the camera accepts it
    private long _awakeAtUs = long.MaxValue; // when it answers; MaxValue while asleep
    private long _lastUseUs;
    private bool _mirrorUp;
    private long _mirrorUpAtUs;
    private bool _exposing, _darkening, _closing;
    private int _buffered;
    private long _pressUs, _openUs;
    private bool _repeat;
    private bool _storing;
    private CameraOptions _set;              // as it was when the present frame began

    /// <summary>Puts a camera on the cable, asleep.</summary>
    public CameraModel(VirtualClock clock, LineLog log, CameraOptions options)
    {
        _clock = clock;
        _log = log;
        Options = _set = options;
    }

    /// <summary>How the camera is set. Changing it while a frame is being taken affects the next one.</summary>
    public CameraOptions Options { get; set; }

    /// <summary>Finished exposures in order.</summary>
    public IReadOnlyList<Frame> Frames => _frames;

    /// <summary>Presses that made no picture.</summary>
    public IReadOnlyList<MissedPress> Missed => _missed;

    /// <summary>Times the mirror went up on its own press.</summary>
    public int MirrorsRaised { get; private set; }

    /// <summary>Start of the exposure now under way, µs, or null.</summary>
    public long? OpenSinceUs => _exposing && _log[Line.SensorOpen] ? _openUs : null;

    /// <summary>True while a press would be ignored.</summary>
    public bool Busy => WhyBusy() is not null;

    /// <summary>The half-press contact changed.</summary>
    public void HalfPress(bool closed)
    {
        _halfRaw = closed;
        Touch();
    }

    /// <summary>The shutter contact changed. A state shorter than the debounce time is not seen.</summary>
    public void Shutter(bool closed)
    {
        long at = _clock.NowUs;
        bool tooShort = !closed && _shutterRaw && !_shutter && at - _shutterRawAtUs < Us(Options.DebounceMs);
        if (tooShort) Miss(_shutterRawAtUs, "contact closed for less than the camera's debounce time");
        _shutterRaw = closed;
        _shutterRawAtUs = at;
        bool halfThen = _halfRaw;
        Touch();
        _clock.At(at + Us(Options.DebounceMs), () =>
        {
            if (_shutterRaw != closed || _shutterRawAtUs != at || _shutter == closed) return;
            _shutter = closed;
            if (closed) Pressed(at, halfThen); else Released(at);
        });
    }

    private static long Us(double ms) => (long)Math.Round(ms * 1000);

    private static long UsOf(double seconds) => (long)Math.Round(seconds * 1e6);

    private string? WhyBusy() =>
        _exposing ? (_closing ? "the shutter was still closing" : "an exposure was under way")
        : _darkening ? "the camera was taking its dark frame"
        : _buffered >= Options.BufferFrames ? "the buffer was full"
        : null;

    private void Miss(long atUs, string why) => _missed.Add(new MissedPress(atUs, why));

    /// <summary>Any contact wakes the camera or keeps it awake.</summary>
    private void Touch()
    {
        long now = _clock.NowUs;
        bool asleep = _awakeAtUs == long.MaxValue
            || (!_exposing && !_darkening && now - _lastUseUs > UsOf(Options.SleepAfterSeconds) && now > _awakeAtUs);
        if (asleep) _awakeAtUs = now + Us(Options.WakeMs);
        _lastUseUs = now;
    }

    private void Pressed(long atUs, bool half)
    {
        if (WhyBusy() is string why) { Miss(atUs, why); return; }
        if (Options.NeedsHalfPress && !half) { Miss(atUs, "half-press was not closed"); return; }
        long ready = Math.Max(atUs, _awakeAtUs);
        if (_mirrorUp && _clock.NowUs - _mirrorUpAtUs > UsOf(Options.MirrorDropsSeconds)) _mirrorUp = false;
        if (Options.MirrorLockUp && !_mirrorUp)
        {
            _mirrorUp = true;
            _mirrorUpAtUs = _clock.NowUs;
            MirrorsRaised++;
            return;
        }
        _repeat = false;
        Begin(atUs, Math.Max(_clock.NowUs, ready + Us(Options.LagMs)));
    }

    private void Begin(long pressUs, long openUs)
    {
        CameraOptions set = _set = Options;
        _exposing = true;
        _closing = false;
        _pressUs = pressUs;
        _openUs = openUs;
        ShowBusy();
        _clock.At(openUs, () =>
        {
            if (!_exposing || _openUs != openUs) return;
            _log.Set(Line.SensorOpen, true);
        });
        if (set.Dial == CameraDial.Timed)
        {
            long dial = Math.Max(1, UsOf(set.DialSeconds));
            _clock.At(openUs + dial, () => End(set, pressUs, dial));
        }
    }

    private void Released(long atUs)
    {
        if (!_exposing || _closing || _set.Dial != CameraDial.Bulb) return;
        _closing = true;
        long at = Math.Max(Math.Max(_openUs + 1, _clock.NowUs), atUs + Us(_set.LagMs));
        _clock.At(at, () => End(_set, atUs, 0));
    }

    private void End(CameraOptions set, long releaseUs, long dialUs)
    {
        _log.Set(Line.SensorOpen, false);
        _exposing = false;
        _closing = false;
        _mirrorUp = false;
        long now = _clock.NowUs;
        _lastUseUs = now;
        _frames.Add(new Frame(_pressUs, _openUs, now, releaseUs, dialUs == 0, dialUs, _repeat));
        _buffered++;
        if (!_storing) Store(set);
        long length = now - _openUs;
        if (set.DarkFrame && length >= 1_000_000)
        {
            _darkening = true;
            _clock.At(now + length, () =>
            {
                _darkening = false;
                _lastUseUs = _clock.NowUs;
                ShowBusy();
                Repeat(set);
            });
        }
        ShowBusy();
        if (!_darkening) Repeat(set);
    }

    /// <summary>A contact that is still held takes the next frame when the drive allows it.</summary>
    private void Repeat(CameraOptions set)
    {
        if (!set.Continuous || set.Dial != CameraDial.Timed || !_shutter) return;
        long last = _openUs;
        long at = Math.Max(_clock.NowUs + 1, last + UsOf(1 / set.FramesPerSecond));
        _clock.At(at, () =>
        {
            if (!_shutter || WhyBusy() is not null || _openUs != last) return;
            _repeat = true;
            Begin(at, at);
        });
    }

    private void Store(CameraOptions set)
    {
        _storing = true;
        _clock.At(_clock.NowUs + UsOf(set.StoreSeconds), () =>
        {
            bool wasFull = _buffered >= set.BufferFrames;
            _buffered--;
            _storing = false;
            if (_buffered > 0) Store(set);
            ShowBusy();
            if (wasFull && !_exposing && !_darkening) Repeat(set);
        });
    }

    private void ShowBusy() => _log.Set(Line.CameraBusy, Busy);
}
