using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Core.Run;
using Intervalometer.Core.Swash;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>Makes logbook entries of the frames that the run desk has taken. Allocates nothing.</summary>
internal sealed class FrameNoter
{
    private readonly Logbook _logbook;
    private readonly BoxSettings _settings;
    private readonly RunDesk _desk;
    private readonly ShoreClock _clock;
    private readonly LogEntry _first = new LogEntry();
    private readonly LogEntry _second = new LogEntry();
    private long _stoppedUs = -1;
    private long _stoppedExposureUs;
    private int _stoppedFrame = -1;
    private int _noted;
    private int _pending;

    public FrameNoter(Logbook logbook, BoxSettings settings, RunDesk desk, ShoreClock clock)
    {
        _logbook = logbook;
        _settings = settings;
        _desk = desk;
        _clock = clock;
    }

    /// <summary>Which time the box is on, for frames without a time of day.</summary>
    public int Session { get; set; }

    /// <summary>Frames that came too fast to be noted.</summary>
    public int Lost { get; private set; }

    /// <summary>True when no frame waits to be noted.</summary>
    public bool Done => _noted == _desk.Log.Total;

    /// <summary>
    /// A frame that was stopped lasted until the stop, and not as long as was planned; unless the camera's own dial times it,
    /// which no contact can end.
    /// </summary>
    public void NoteStop(long nowUs)
    {
        if (_desk.State != RunState.Stopped && _desk.State != RunState.Failed)
        {
            _stoppedUs = -1;
            return;
        }
        if (_stoppedUs >= 0) return;
        _stoppedUs = nowUs;
        FrameLog log = _desk.Log;
        if (_desk.Player.FramesStarted == 0 || log.LastEndUs <= nowUs || !_desk.Plan.BoxTimed) return;
        _stoppedFrame = log.Total - 1;
        // Within the camera's lag the shutter has not opened yet.
        _stoppedExposureUs = nowUs > log.LastStartUs ? nowUs - log.LastStartUs : 0;
    }

    /// <summary>Begins to write the next one or two frames. False when there is none that is over.</summary>
    public bool Begin(long nowUs)
    {
        FrameLog log = _desk.Log;
        while (!log.Has(_noted) && _noted < log.Total)
        {
            _noted++;
            Lost++;
        }
        if (!Fill(_noted, nowUs, _first)) return false;
        bool two = Fill(_noted + 1, nowUs, _second);
        _pending = two ? 2 : 1;
        return _logbook.TryAppend(_first, two ? _second : null);
    }

    /// <summary>They are written.</summary>
    public void Written()
    {
        _logbook.Written();
        _noted += _pending;
    }

    // False while the frame is not over yet.
    private bool Fill(int index, long nowUs, LogEntry entry)
    {
        FrameLog log = _desk.Log;
        if (!log.Has(index)) return false;
        long start = log.StartUs(index);
        entry.CutShort = index == _stoppedFrame;
        entry.ExposureUs = entry.CutShort ? _stoppedExposureUs : log.ExposureUs(index);
        if (start + entry.ExposureUs > nowUs) return false;
        entry.HasUtc = _clock.IsSet;
        entry.StartUtcSeconds = _clock.Now(start).Seconds;
        entry.Session = Session;
        entry.StartTenths = (start + 50_000) / 100_000;
        entry.StopsHundredths = (int)(_settings.Kit.EffectiveStops.Value * 100 + 0.5);
        double light = _settings.Base.Ev100 * 100;
        entry.LightHundredths = (int)(light < 0 ? light - 0.5 : light + 0.5);
        entry.WaveThousandths = WaveAt(start);
        return true;
    }

    private int WaveAt(long atUs)
    {
        WaveRhythm rhythm = _desk.Waves.Rhythm;
        if (!rhythm.Ready) return -1;
        double period = rhythm.PeriodSeconds * 1e6;
        if (period <= 0) return -1;
        double into = Elementary.Wrap(atUs - rhythm.LastMarkUs, period);
        return (int)(into / period * 999.999);
    }
}
