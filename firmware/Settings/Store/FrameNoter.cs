using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Settings;
using Intervalometer.Settings.Shore;

namespace Intervalometer.Settings.Store;

/// <summary>Writes the frames that were taken into the logbook. Allocates nothing.</summary>
internal sealed class FrameNoter
{
    private readonly Logbook _logbook;
    private readonly BoxSettings _settings;
    private readonly FrameRing _frames;
    private readonly SeaReport _sea;
    private readonly ShoreClock _clock;
    private readonly LightNotes _light;
    private readonly LogEntry _first = new LogEntry();
    private readonly LogEntry _second = new LogEntry();
    private int _noted;
    private int _pending;

    public FrameNoter(Logbook logbook, BoxSettings settings, RunLink link, ShoreDesk shore)
    {
        _logbook = logbook;
        _settings = settings;
        _frames = link.Frames;
        _sea = link.Sea;
        _clock = shore.Clock;
        _light = shore.Dawn.Sensor.Series.Notes;
    }

    /// <summary>The number of this power-on, by which frames without a time of day are told apart.</summary>
    public int Session { get; set; }

    /// <summary>How many frames came too fast to be written.</summary>
    public int Lost { get; private set; }

    /// <summary>How many frames have been written since the box was switched on.</summary>
    public int Kept { get; private set; }

    /// <summary>How many frames wait to be written.</summary>
    public int Waiting => _frames.Total - _noted;

    /// <summary>True when no frame waits to be written.</summary>
    public bool Done => _noted == _frames.Total;

    /// <summary>Begins to write the next one or two frames. Returns false when no frame that has ended waits.</summary>
    public bool Begin(long nowUs)
    {
        while (!_frames.Has(_noted) && _noted < _frames.Total)
        {
            _noted++;
            Lost++;
        }
        if (!Fill(_noted, nowUs, _first)) return false;
        // What the light did to a frame is stored where a second frame would stand.
        bool two = _first.End == LightEnd.None && Fill(_noted + 1, nowUs, _second) && _second.End == LightEnd.None;
        _pending = two ? 2 : 1;
        return _logbook.TryAppend(_first, two ? _second : null);
    }

    /// <summary>Notes that these frames have been written.</summary>
    public void Written()
    {
        _logbook.Written();
        _noted += _pending;
        Kept += _pending;
    }

    // Fills an entry. Returns false while the camera's own dial has not ended the frame yet.
    private bool Fill(int index, long nowUs, LogEntry entry)
    {
        if (!_frames.Has(index)) return false;
        long start = _frames.StartUs(index);
        entry.ExposureUs = _frames.ExposureUs(index);
        entry.CutShort = _frames.CutShort(index);
        if (start + entry.ExposureUs > nowUs && !entry.CutShort) return false;
        entry.LateSteps = _frames.Late(index);
        entry.HasUtc = _clock.IsSet;
        entry.StartUtcSeconds = _clock.Now(start).Seconds;
        entry.Session = Session;
        entry.StartTenths = (start + 50_000) / 100_000;
        entry.StopsHundredths = (int)(_settings.Kit.EffectiveStops.Value * 100 + 0.5);
        double light = _settings.Base.Ev100 * 100;
        entry.LightHundredths = (int)(light < 0 ? light - 0.5 : light + 0.5);
        entry.WaveThousandths = WaveAt(start);
        entry.End = _light.End(index);
        entry.PlannedUs = _light.PlannedUs(index);
        entry.CollectedThousandths = _light.Thousandths(index);
        entry.From = _light.From(index);
        if (entry.From != SeriesLight.None) entry.LightHundredths += _light.StopsHundredths(index);
        return true;
    }

    private int WaveAt(long atUs)
    {
        if (!_sea.Ready) return -1;
        double period = _sea.PeriodSeconds * 1e6;
        if (period <= 0) return -1;
        double into = Elementary.Wrap(atUs - _sea.LastMarkUs, period);
        return (int)(into / period * 999.999);
    }
}
