using Intervalometer.Core.Exposure;
using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// What a light sensor on the box does for the exposures. It ends a single frame once the metered light is collected, and lets the exposure
/// that is worked out follow the light. The panel thread reads the sensor and says when the light is enough; the release thread moves the edge.
/// </summary>
/// <remarks>
/// The edge that ends the frame is queued at the longest time allowed, so the frame ends whatever fails here. The end is announced
/// once in a frame, at most <see cref="AheadUs"/> before it, from the light of the last reading. After a reading that is not trusted, the light
/// is estimated: as it was last, or as it changes under a clear sky when the dawn's correction is on. Allocates nothing.
/// </remarks>
public sealed class SensedLight
{
    /// <summary>A frame shorter than this is left to its plan, seconds, because a single reading takes up to one second.</summary>
    public const double LeastSeconds = 4;

    /// <summary>The end is announced when it is this close, µs, because one more reading would come too late.</summary>
    public const long AheadUs = 1_500_000;

    /// <summary>The least time from the announcement to the edge of the contact, µs. Whatever is being drawn or sent is finished by then.</summary>
    public const long NoticeUs = 400_000;

    // While the light is in doubt, the exposure stays as it is for this long, µs, so that a hand in front of the sensor changes nothing.
    private const long HoldUs = 10_000_000;

    // The exposure follows the light in steps of this size, stops.
    private const double FollowStops = 0.02;

    private readonly BoxSettings _box;
    private int _meterings;
    private int _run;
    private bool _open;
    private bool _said;
    private bool _trusted;
    private long _endUs;

    /// <summary>Creates the sensor's part for the exposure settings of a box.</summary>
    public SensedLight(BoxSettings box)
    {
        _box = box;
        _meterings = box.Meterings;
        Series = new FollowedSeries(box, Watch);
    }

    /// <summary>True when a sensor has answered since power-on.</summary>
    public bool Fitted { get; set; }

    /// <summary>Judges which readings can be trusted.</summary>
    public LightWatch Watch { get; } = new LightWatch();

    /// <summary>Adds up the light of the open or the last frame.</summary>
    public LightSum Sum { get; } = new LightSum();

    /// <summary>Takes the exposures of a series from the light.</summary>
    public FollowedSeries Series { get; }

    /// <summary>When the light was last metered, µs.</summary>
    public long MeteredUs { get; private set; }

    /// <summary>True while the exposure that is worked out follows the light.</summary>
    public bool Carries { get; private set; }

    /// <summary>True while a sensor is fitted and switched on.</summary>
    public bool On => Fitted && _box.Sensor != SensorUse.Off;

    /// <summary>How the light is assumed to change while the sensor cannot be trusted, stops a second.</summary>
    public double Drift { get; set; }

    /// <summary>True when the change under a clear sky is known.</summary>
    public bool SkyKnown { get; set; }

    /// <summary>True while a frame is open that the light may end.</summary>
    public bool FrameOpen => _open;

    /// <summary>True while the readings in the open frame are trusted.</summary>
    public bool Trusted => _trusted;

    /// <summary>When the open frame should end at the present light, µs.</summary>
    public long EndUs => _said ? _endUs : Sum.EndUs;

    /// <summary>When the contact must open for that, µs; long.MaxValue while no such frame is open.</summary>
    public long EdgeUs => _open ? EndUs - LagUs : long.MaxValue;

    private long LagUs => _box.Camera.ShutterLagMs * 1000L;

    /// <summary>True when the light may end the frame of a plan whose exposure has been filled in.</summary>
    public bool MayEnd(ShotPlan plan) => On && Watch.Usable && plan.Shape == PlanShape.Single && plan.BoxTimed && plan.ExposureUs >= LeastSeconds * 1e6;

    /// <summary>True when the frames of a plan follow the light. The light must have been seen when it was metered.</summary>
    public bool MayFollow(ShotPlan plan) => On && Watch.HasReference && _box.SeriesTenths > 0 && ShotPlan.MayFollow(plan.Shape) && plan.BoxTimed;

    /// <summary>The longest that such a frame may take, µs: the worked-out exposure plus the stops that were set, but no more than the longest exposure allowed.</summary>
    public long LongestUs(long answerUs)
    {
        double longest = answerUs * Elementary.Exp2(_box.SensorThirds / 3.0);
        long most = _box.LimitSeconds * 1_000_000L;
        return longest < most ? Elementary.Round(longest) : answerUs > most ? answerUs : most;
    }

    /// <summary>Takes a reading.</summary>
    /// <param name="state">The sensor's own judgement.</param>
    /// <param name="lux">The light, lx.</param>
    /// <param name="atUs">The middle of the time in which it was taken, µs.</param>
    public void Take(LightState state, double lux, long atUs)
    {
        long before = Watch.AtUs;
        Watch.Take(state, lux, atUs);
        if (Watch.Usable) Series.Trend.Take(Watch.Stops, Watch.AtUs);
        if (!_open || _said) return;
        if (Watch.AtUs < before) Sum.TakeBack();
        else if (Watch.Usable) Sum.Take(Watch.Ratio, Watch.AtUs);
    }

    /// <summary>Does one pass of the panel thread. Returns true when <see cref="Drift"/> must be set: a frame begins that the light may end, or a series needs it.</summary>
    public bool Pass(RunLink link, long nowUs)
    {
        if (_meterings != _box.Meterings)
        {
            _meterings = _box.Meterings;
            MeteredUs = nowUs;
            Watch.Meter(nowUs);
            Series.Trend.Clear();
            _box.FollowLight(0);
        }
        RunReport run = link.Report;
        if (run.PlannedUs > 0 && run.Running && run.FramesStarted > 0)
        {
            bool begins = _run != run.Run;
            if (begins) Begin(run);
            if (!_said) Judge(link, nowUs);
            return begins;
        }
        if (_open) Close(link);
        if (!link.Busy) Follow(nowUs);
        return Series.Pass(link, SkyKnown, Drift, nowUs);
    }

    // Nothing that determines the worked-out exposure has changed since Fire.
    private void Begin(RunReport run)
    {
        _run = run.Run;
        _open = true;
        _said = false;
        _trusted = true;
        Drift = 0;
        long start = run.FrameStartUs;
        double metered = _box.Answer.BeforeFilmSeconds * Elementary.Exp2(_box.BrighterStops);
        Sum.Begin(start, metered, _box.Film, run.PlannedUs / 1e6, (run.FrameEndUs - start) / 1e6, Watch.Ratio, Watch.AtUs);
    }

    private void Judge(RunLink link, long nowUs)
    {
        bool trusted = Watch.Usable && nowUs - Watch.AtUs <= LightWatch.SilentUs;
        double drift = trusted ? 0 : Drift;
        _trusted = trusted;
        if (Sum.Drift != drift)
        {
            Sum.Drift = drift;
            Sum.Predict();
        }
        long end = Sum.EndUs;
        long soonest = nowUs + LagUs + NoticeUs;
        if (end - LagUs - nowUs > AheadUs || Sum.End == LightEnd.Longest) return;
        _endUs = end > soonest ? end : soonest;
        _said = true;
        link.EndFrameAt(_endUs);
    }

    private void Close(RunLink link)
    {
        _open = false;
        FrameRing frames = link.Frames;
        int last = frames.Total - 1;
        if (!frames.Has(last)) return;
        LightEnd end = frames.CutShort(last) ? LightEnd.Stopped : !_said ? LightEnd.Longest : _trusted ? Sum.End : LightEnd.Estimated;
        Series.Notes.Ended(last, end, Elementary.Round(Sum.PlannedSeconds * 1e6), Sum.Share(link.Report.FrameEndUs));
    }

    /// <summary>For the LIGHT card: what the light has done since it was metered, or why the sensor is not used.</summary>
    public string Words => Watch.State switch
    {
        LightState.Silent => "sensor silent: not used",
        LightState.TooDark => "too dark for the sensor",
        LightState.Saturated => "too bright for the sensor",
        LightState.Covered => "sensor covered, or turned",
        LightState.Jumped => "a lamp? Turned? Meter again",
        LightState.Absent => "sensor: no reading yet",
        _ => Watch.HasReference ? SinceMetered : "sensor: meter again",
    };

    private string SinceMetered
    {
        get
        {
            double stops = Watch.Stops;
            return (stops > -0.005 ? "+" : "") + stops.ToString("F2") + " st since metered";
        }
    }

    /// <summary>For the screen during a frame: what ends it at present.</summary>
    public string FrameWords => _trusted ? "LIGHT ENDS IT" : DoubtWords;

    /// <summary>For the screen during a series that follows the light: what sets the times at present.</summary>
    public string SeriesWords => Series.From == SeriesLight.Sensor ? "LIGHT SETS IT" : DoubtWords;

    /// <summary>For the FRAMES card: from what the first frame of a series is taken, and why not from the light.</summary>
    public string BeforeWords
    {
        get
        {
            SeriesLight from = Series.FilledFrom;
            if (from == SeriesLight.Sensor) return "By the light, " + (_box.SeriesTenths / 10.0).ToString("F1") + " st a frame";
            return (from == SeriesLight.ClearSky ? "By a clear sky: " : "Plain time: ") + Watch.State switch
            {
                LightState.TooDark => "too dark",
                LightState.Saturated => "too bright",
                LightState.Covered => "covered",
                LightState.Jumped => "a lamp?",
                _ => "sensor silent",
            };
        }
    }

    private string DoubtWords => Watch.State switch
    {
        LightState.TooDark => "TOO DARK: ABOUT",
        LightState.Saturated => "TOO BRIGHT: ABOUT",
        LightState.Covered => "COVERED: ABOUT",
        LightState.Jumped => "A LAMP? ABOUT",
        _ => "SENSOR OUT: ABOUT",
    };

    /// <summary>For the screen at the end of a run: what ended its frame. The share of the light that it got follows these words.</summary>
    public static string EndWords(LightEnd end) => end switch
    {
        LightEnd.Enough => "Enough light",
        LightEnd.Longest => "At its longest",
        LightEnd.Shortest => "At its shortest",
        LightEnd.Estimated => "Sensor out",
        _ => "Stopped",
    };

    /// <summary>For the list of frames: from what the exposure of a frame in a series was taken.</summary>
    public static string FromWords(SeriesLight from) => from == SeriesLight.Sensor ? "By the light" : from == SeriesLight.ClearSky ? "By a clear sky" : "Time kept";

    /// <summary>For the BENCH card: the light as the sensor sees it.</summary>
    public string LuxWords => Watch.State switch
    {
        LightState.Silent => "SILENT",
        LightState.TooDark => "too dark",
        LightState.Saturated => "too bright",
        LightState.Trusted => Watch.Lux.ToString(Watch.Lux < 10 ? "F2" : "F0") + " lx",
        _ => "in doubt",
    };

    private void Follow(long nowUs)
    {
        bool wanted = On && _box.Sensor == SensorUse.CarriesToo && Watch.HasReference;
        if (wanted && Watch.Usable)
        {
            Carries = true;
            if (Elementary.Abs(Watch.Stops - _box.BrighterStops) >= FollowStops) _box.FollowLight(Watch.Stops);
        }
        else if (!wanted || nowUs - Watch.AtUs > HoldUs)
        {
            Carries = false;
            _box.FollowLight(0);
        }
    }
}
