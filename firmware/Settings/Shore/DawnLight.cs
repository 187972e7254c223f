using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Link;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// Corrects a bulb exposure for the light that changes during it, counted from the moment at which the metered time was last changed.
/// Times that the camera's dial makes are never corrected.
/// </summary>
public sealed class DawnLight
{
    /// <summary>A reading that is older than this is not used, seconds, because cloud changes too much (a judgement, no source).</summary>
    public const long FreshSeconds = 1200;

    private const long AgainUs = 2_000_000;

    private readonly BoxSettings _box;
    private DawnExposure _exposure;
    private int _readings;
    private bool _hasReading;
    private UtcInstant _reading;
    private long _workedOutUs = long.MinValue;
    private double _forSeconds;
    private DawnFrame _frame;

    /// <summary>Creates the correction for the exposure settings of a box.</summary>
    public DawnLight(BoxSettings box)
    {
        _box = box;
        _exposure = new DawnExposure(new GeoPosition(0, 0));
        Sensor = new SensedLight(box);
    }

    /// <summary>The part of a light sensor in the exposures.</summary>
    public SensedLight Sensor { get; }

    /// <summary>Does the sensor's part in a pass of the panel thread: follows the light, and ends the open frame.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="on">True when the dawn's correction is switched on. The model then replaces a sensor that can no longer be trusted.</param>
    /// <param name="link">The runs.</param>
    /// <param name="nowUs">The board's clock, µs.</param>
    public void SensorPass(ShoreClock clock, bool on, RunLink link, long nowUs)
    {
        Sensor.SkyKnown = on && clock.IsSet;
        if (Sensor.Pass(link, nowUs)) Sensor.Drift = Sensor.SkyKnown ? _exposure.StopsASecond(clock.Now(nowUs)) : 0;
    }

    /// <summary>True when <see cref="Seconds"/> replaces the metered duration.</summary>
    public bool Applies { get; private set; }

    /// <summary>True when the correction is switched on, but the reading is missing or too old.</summary>
    public bool WantsReading { get; private set; }

    /// <summary>True when the light fades so fast that no exposure collects enough, or when the corrected time is over the limit.</summary>
    public bool OutOfReach { get; private set; }

    /// <summary>The duration with the correction for the light and that of the film, seconds.</summary>
    public double Seconds { get; private set; }

    /// <summary>By how many stops the duration differs from the metered one; negative when it is shorter.</summary>
    public double Stops => _frame.StopsAgainstMetered;

    /// <summary>
    /// The duration that the next frame would need, seconds, film included, when it follows as the plan says; 0 when the plan takes one frame
    /// or nothing is known.
    /// </summary>
    public double NextSeconds { get; private set; }

    /// <summary>Goes over to the sun of another place.</summary>
    public void MoveTo(GeoPosition place)
    {
        _exposure = new DawnExposure(place);
        _workedOutUs = long.MinValue;
    }

    /// <summary>Notes a new reading of the light. It is cheap; call it every second.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="on">True when the correction is switched on.</param>
    /// <param name="nowUs">The board's clock, µs.</param>
    public void Watch(ShoreClock clock, bool on, long nowUs)
    {
        if (_readings != _box.Readings)
        {
            _readings = _box.Readings;
            _hasReading = clock.IsSet;
            _reading = clock.Now(nowUs);
            _workedOutUs = long.MinValue;
        }
        bool asked = on && _box.Answer.Kind == ExposureKind.Bulb;
        long age = clock.Now(nowUs).SecondsSince(_reading);
        bool fresh = clock.IsSet && (Sensor.Carries || (_hasReading && age >= 0 && age <= FreshSeconds));
        WantsReading = asked && !fresh;
        if (asked && fresh) return;
        Applies = false;
        OutOfReach = false;
        _workedOutUs = long.MinValue;
    }

    /// <summary>True when the correction must be worked out.</summary>
    public bool Due(bool on, long nowUs) =>
        on && !WantsReading && _box.Answer.Kind == ExposureKind.Bulb
        && (_workedOutUs == long.MinValue || nowUs - _workedOutUs >= AgainUs || _forSeconds != _box.Answer.BeforeFilmSeconds);

    /// <summary>Works out the frame that would open after the settling of the tripod, counted from now. It costs 15 to 40 thousand IL instructions a frame, and a series takes two frames (by counting).</summary>
    public void Work(ShoreClock clock, long nowUs)
    {
        ExposureAnswer answer = _box.Answer;
        _workedOutUs = nowUs;
        _forSeconds = answer.BeforeFilmSeconds;
        // An exposure that follows the light is worked out for the present light.
        _exposure.Read(Sensor.Carries ? clock.Now(nowUs) : _reading, answer.BeforeFilmSeconds);
        UtcInstant start = clock.Now(nowUs).PlusSeconds(_box.Plan.SettleUs / 1_000_000);
        _frame = _exposure.FrameAt(start);
        Seconds = _box.Film.Corrected(_frame.Seconds);
        OutOfReach = _frame.State == DawnState.Fading || Seconds > _box.LimitSeconds;
        Applies = _frame.State == DawnState.Solved && !OutOfReach;
        NextSeconds = Applies ? NextFrame(start) : 0;
    }

    private double NextFrame(UtcInstant start)
    {
        ShotPlan plan = _box.Plan;
        if (plan.Shape != PlanShape.Series && plan.Shape != PlanShape.Burst) return 0;
        double busy = _box.Camera.DarkFrame ? _frame.Seconds : 0;
        double gap = plan.Shape == PlanShape.Series ? plan.IntervalUs / 1e6 - _frame.Seconds : plan.GapUs / 1e6;
        DawnFrame next = _exposure.FrameAt(DawnExposure.NextStart(start, _frame, gap > busy ? gap : busy));
        return next.State == DawnState.Solved ? _box.Film.Corrected(next.Seconds) : 0;
    }

    /// <summary>
    /// Fills a plan with the worked-out exposure, corrected for the dawn where that applies. A frame that a person or the light may end gets the
    /// longest exposure allowed, and the worked-out one for comparison. A series or burst that follows the light gets the exposure for the light now.
    /// Returns false when the exposure is refused.
    /// </summary>
    /// <param name="plan">The plan; its shape is set.</param>
    /// <param name="alone">True for a plan that is taken by itself and not on a wave. Only such frames are left to the light.</param>
    public bool Fill(ShotPlan plan, bool alone = true)
    {
        plan.ByLight = false;
        plan.FollowsUpToUs = 0;
        if (!_box.FillExposure(plan)) return false;
        Correct(plan);
        if (plan.Shape == PlanShape.ByHand) plan.LeaveToHand(_box.LimitSeconds);
        else if (alone && Sensor.MayEnd(plan)) plan.LeaveToLight(Sensor.LongestUs(plan.ExposureUs));
        else if (alone && Sensor.MayFollow(plan)) Sensor.Series.Fill(plan, Applies);
        return true;
    }

    // Only a plan that the box times is corrected.
    private void Correct(ShotPlan plan)
    {
        if (!Applies || !plan.BoxTimed || _forSeconds != _box.Answer.BeforeFilmSeconds) return;
        plan.ExposureUs = Elementary.Round(Seconds * 1e6);
    }
}
