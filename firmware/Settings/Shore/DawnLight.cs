using Intervalometer.Coast.Sky;
using Intervalometer.Coast.Time;
using Intervalometer.Core.Exposure;
using Intervalometer.Core.Numerics;
using Intervalometer.Core.Release;
using Intervalometer.Settings;

namespace Intervalometer.Settings.Shore;

/// <summary>
/// Corrects a bulb exposure for the light that changes under it, from the moment at which the metered time was last changed.
/// Never for times that the camera's dial makes.
/// </summary>
public sealed class DawnLight
{
    /// <summary>A reading older than this is not leaned on, seconds: cloud changes too much (a judgement, no source).</summary>
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

    /// <summary>For the exposure settings of a box.</summary>
    public DawnLight(BoxSettings box)
    {
        _box = box;
        _exposure = new DawnExposure(new GeoPosition(0, 0));
    }

    /// <summary>True when <see cref="Seconds"/> takes the place of the metered duration.</summary>
    public bool Applies { get; private set; }

    /// <summary>True when it is switched on, but the reading is missing or old.</summary>
    public bool WantsReading { get; private set; }

    /// <summary>True when the light fades faster than a frame can gather it, or the corrected time is over the limit.</summary>
    public bool OutOfReach { get; private set; }

    /// <summary>The corrected duration with the film's correction, seconds.</summary>
    public double Seconds { get; private set; }

    /// <summary>Stops against the metered duration, negative when shorter.</summary>
    public double Stops => _frame.StopsAgainstMetered;

    /// <summary>
    /// What the frame after this one would need, seconds, film included, when it follows as the plan says; 0 when the plan
    /// takes one frame or nothing is known.
    /// </summary>
    public double NextSeconds { get; private set; }

    /// <summary>Another place: its sun.</summary>
    public void MoveTo(GeoPosition place)
    {
        _exposure = new DawnExposure(place);
        _workedOutUs = long.MinValue;
    }

    /// <summary>Notes a fresh reading. Cheap; call it every second.</summary>
    /// <param name="clock">The clock.</param>
    /// <param name="on">True when switched on.</param>
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
        bool fresh = _hasReading && clock.IsSet && age >= 0 && age <= FreshSeconds;
        WantsReading = asked && !fresh;
        if (asked && fresh) return;
        Applies = false;
        OutOfReach = false;
        _workedOutUs = long.MinValue;
    }

    /// <summary>True when there is something to work out.</summary>
    public bool Due(bool on, long nowUs) =>
        on && !WantsReading && _box.Answer.Kind == ExposureKind.Bulb
        && (_workedOutUs == long.MinValue || nowUs - _workedOutUs >= AgainUs || _forSeconds != _box.Answer.BeforeFilmSeconds);

    /// <summary>Works the frame out that would open after the tripod's rest from now. 15 to 40 thousand IL a frame, two frames for a series (by counting).</summary>
    public void Work(ShoreClock clock, long nowUs)
    {
        ExposureAnswer answer = _box.Answer;
        _workedOutUs = nowUs;
        _forSeconds = answer.BeforeFilmSeconds;
        _exposure.Read(_reading, answer.BeforeFilmSeconds);
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
    /// Fills a plan with the answer's exposure, corrected for the dawn where that applies; a frame that a person ends gets the longest
    /// exposure allowed, and the answer to be measured against. False when the answer is a refusal.
    /// </summary>
    public bool Fill(ShotPlan plan)
    {
        if (!_box.FillExposure(plan)) return false;
        Correct(plan);
        if (plan.Shape == PlanShape.ByHand) plan.LeaveToHand(_box.LimitSeconds);
        return true;
    }

    // Only a plan that the box times; any other is left as it is.
    private void Correct(ShotPlan plan)
    {
        if (!Applies || !plan.BoxTimed || _forSeconds != _box.Answer.BeforeFilmSeconds) return;
        plan.ExposureUs = Elementary.Round(Seconds * 1e6);
    }
}
