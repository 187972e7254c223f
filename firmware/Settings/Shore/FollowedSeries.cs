using Intervalometer.Core.Light;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// Takes the exposures of a series or burst from the light. Each frame after the first gets the exposure that the light calls for when the frame
/// opens, or keeps a limit that the user sets for the change from frame to frame. The panel thread says the exposure through the link.
/// </summary>
/// <remarks>
/// The first frame has the exposure that was told before Fire. While the sensor cannot be trusted, the light is assumed to change as under a
/// clear sky when the dawn's correction is on; otherwise the exposure of the frame before is kept. The release thread has an exposure for
/// every frame whatever fails here, and moves no edge for it after the frame has opened. Allocates nothing.
/// </remarks>
public sealed class FollowedSeries
{
    // The exposure is said again at this interval, µs.
    private const long AgainUs = 250_000;

    // Nothing is worked out when an edge is nearer than this, µs, because the panel thread would take the processor from the release thread.
    private const long ClearOfEdgeUs = 150_000;

    // The clear sky is asked again at this interval, µs, because it costs the positions of the sun.
    private const long SkyAgainUs = 10_000_000;

    private readonly BoxSettings _box;
    private readonly LightWatch _watch;
    private int _run;
    private int _firstFrame;
    private int _started;
    private long _beforeUs;
    private long _saidUs;
    private long _skyUs;

    /// <summary>Creates the series' part of the sensor.</summary>
    /// <param name="box">The exposure settings.</param>
    /// <param name="watch">The judged readings.</param>
    public FollowedSeries(BoxSettings box, LightWatch watch)
    {
        _box = box;
        _watch = watch;
    }

    /// <summary>The smoothed light.</summary>
    public LightTrend Trend { get; } = new LightTrend();

    /// <summary>What the light did to the last frames.</summary>
    public LightNotes Notes { get; } = new LightNotes();

    /// <summary>From what the exposure of the next frame is taken.</summary>
    public SeriesLight From { get; private set; }

    /// <summary>From what the exposure of the first frame was taken when a plan was filled in last.</summary>
    public SeriesLight FilledFrom { get; private set; }

    /// <summary>The exposure of the next frame, µs; 0 before the first frame has opened.</summary>
    public long NextUs { get; private set; }

    /// <summary>Lets the frames of a plan follow the light, and gives the first one the exposure that the light calls for now.</summary>
    /// <param name="plan">The plan, with its worked-out exposure.</param>
    /// <param name="fromSky">True when that exposure is corrected for a clear sky.</param>
    public void Fill(ShotPlan plan, bool fromSky)
    {
        FilledFrom = _watch.Usable ? SeriesLight.Sensor : fromSky ? SeriesLight.ClearSky : SeriesLight.Kept;
        long limitUs = _box.LimitSeconds * 1_000_000L;
        if (_watch.Usable)
        {
            long called = CalledFor(Trend.AtUs + plan.SettleUs, plan.ExposureUs);
            plan.ExposureUs = called < limitUs ? called : limitUs;
        }
        long mostUs = plan.Shape == PlanShape.Series ? PlanCompiler.LongestInIntervalUs(plan, _box.Camera) : limitUs;
        if (mostUs > limitUs) mostUs = limitUs;
        plan.FollowsUpToUs = mostUs > plan.ExposureUs ? mostUs : plan.ExposureUs;
    }

    /// <summary>Does one pass of the panel thread.</summary>
    /// <param name="link">The runs.</param>
    /// <param name="skyKnown">True when the change under a clear sky is known.</param>
    /// <param name="drift">That change as it was asked last, stops a second.</param>
    /// <param name="nowUs">The board's clock, µs.</param>
    /// <returns>True when the change under a clear sky must be asked again.</returns>
    public bool Pass(RunLink link, bool skyKnown, double drift, long nowUs)
    {
        RunReport run = link.Report;
        if (!run.Running)
        {
            _firstFrame = link.Frames.Total;
            return false;
        }
        if (run.FollowsUpToUs == 0) return false;
        if (_run != run.Run) Begin(run.Run);
        for (; _started < run.FramesStarted; _started++)
        {
            Notes.Followed(_firstFrame + _started, From, Trend.At(nowUs));
            _beforeUs = run.FrameEndUs - run.FrameStartUs;
            _saidUs = long.MinValue / 2;
        }
        if (_started == 0 || _started >= run.FramesPlanned || nowUs - _saidUs < AgainUs || run.NextEdgeUs - nowUs < ClearOfEdgeUs) return false;
        bool trusted = _watch.Usable && nowUs - _watch.AtUs <= LightWatch.SilentUs;
        if (!trusted && skyKnown && nowUs - _skyUs >= SkyAgainUs)
        {
            _skyUs = nowUs;
            return true;
        }
        if (!trusted) Trend.Carry(skyKnown ? drift : 0, nowUs);
        From = trusted ? SeriesLight.Sensor : skyKnown ? SeriesLight.ClearSky : SeriesLight.Kept;
        _saidUs = nowUs;
        NextUs = From == SeriesLight.Kept ? _beforeUs : Within(run, CalledFor(run.NextUs > nowUs && run.NextUs != long.MaxValue ? run.NextUs : nowUs, _beforeUs));
        link.FollowTo(NextUs);
        return false;
    }

    private void Begin(int run)
    {
        _run = run;
        _started = 0;
        _skyUs = long.MinValue / 2;
        From = FilledFrom;
        NextUs = 0;
    }

    // The exposure that collects the metered light when it opens at a moment, µs. The light in the middle of the frame stands for all of it.
    private long CalledFor(long openUs, long aboutUs)
    {
        double metered = _box.Answer.BeforeFilmSeconds * Elementary.Exp2(_box.BrighterStops);
        long us = aboutUs;
        for (int i = 0; i < 2; i++)
        {
            double seconds = _box.Film.Corrected(metered * Elementary.Exp2(-Trend.At(openUs + us / 2)));
            us = Elementary.Round(seconds * 1e6);
        }
        return us;
    }

    // Keeps to the largest change from frame to frame, and to what the plan allows.
    private long Within(RunReport run, long us)
    {
        double most = Elementary.Exp2(_box.SeriesTenths / 10.0);
        // divisor: a power of two is above zero.
        double low = Elementary.Max(_beforeUs / most, ShotPlan.ShortestBoxTimedUs);
        double high = Elementary.Min(_beforeUs * most, run.FollowsUpToUs);
        return Elementary.Round(Elementary.Clamp((double)us, low, high));
    }
}
